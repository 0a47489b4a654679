"""Where the bytes come from: frames, transports, links, and the virtual pair of scales."""
