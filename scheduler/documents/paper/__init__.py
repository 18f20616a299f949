"""Sheets and the whole plan as pages for paper, and as PDF."""
