"""Laboratory force streams: those of a Lab Streaming Layer network serve as scales, and a session is offered as one.

Needs the extra `lsl`; nothing of it is loaded before a stream is asked for.
"""
