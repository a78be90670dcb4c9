"""The words in which the terms of a bank are stated."""

ISO, US, DAY_FIRST = "iso", "us", "day first"
POINT, COMMA = "point", "comma"
NEGATIVE, POSITIVE = "negative", "positive"
