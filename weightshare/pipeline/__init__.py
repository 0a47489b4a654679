"""Pure numbers, stage by stage: the same objects live and later."""
