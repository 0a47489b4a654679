"""Makes the drawings and tables of hardware/ from build.toml: `python -m hardware.make`, from the top folder."""
