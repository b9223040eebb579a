"""Chapters and captions as the files other programs know. No film is opened, no file is read here: bytes in, text out.

written   `webvtt` and `ffmetadata`: a chapters card as WebVTT, as a metadata file of ffmpeg
captions  `read_captions`: WebVTT or SRT, in the usual encodings; refusals are `captions.NotCaptions`
"""
