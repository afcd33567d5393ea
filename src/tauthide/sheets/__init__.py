"""Sheets: the Markdown pages of a drum and of a batch, made from a plan and its findings.

The view turns every number into text, rounded and with its units; the templates only set it out.
"""
