"""Every flow of the pages, walked in Chromium at three widths, by keys alone and by pointer, in a house that runs."""
