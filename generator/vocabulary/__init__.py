"""The trade's facts as data: stitches, languages, published tables. Every file names its source."""
