"""Pure numbers, stage by stage: the same objects live and later."""

from weightshare.pipeline.analysis import analyse_trace
from weightshare.pipeline.chain import Pipeline
from weightshare.pipeline.result import Analysis

__all__ = ["Analysis", "Pipeline", "analyse_trace"]
