"""Published examples, as numbers; the source and how well it was seen stand beside each."""

from typing import Final


def _numbers(words: str) -> tuple[float, ...]:
    return tuple(map(float, words.split()))


# NIST/SEMATECH e-Handbook 6.3.2.2: data from memory; the published results follow from it exactly.
FLOW_RATES: Final = _numbers("49.6 47.6 49.9 51.3 47.8 51.2 52.6 52.4 53.6 52.1")

# NIST/SEMATECH e-Handbook 6.3.2.4: data from memory; limits and averages as quoted from the handbook.
EWMA_DATA: Final = _numbers(
    "52.0 47.0 53.0 49.3 50.1 47.0 51.0 50.1 51.2 50.5 49.6 47.6 49.9 51.3 47.8 51.2 52.6 52.4 53.6 52.1"
)
EWMA_AVERAGES: Final = _numbers(
    "50.60 49.52 50.56 50.18 50.16 49.21 49.75 49.85 50.26 50.33 "
    "50.11 49.36 49.52 50.05 49.38 49.92 50.73 51.23 51.94 51.99"
)

# NIST/SEMATECH e-Handbook 6.3.2.3: data and sums from memory; they agree with one another.
CUSUM_DATA: Final = _numbers(
    "324.925 324.675 324.725 324.350 325.350 325.225 324.125 324.525 325.225 324.600 "
    "324.625 325.150 328.325 327.250 327.825 328.500 326.675 327.775 326.875 328.350"
)
CUSUM_HIGH: Final = _numbers("0 0 0 0 0.03 0 0 0 0 0 0 0 3.01 4.94 7.45 10.63 11.99 14.44 16.00 19.04")
CUSUM_LOW: Final = _numbers("0 0.01 0 0.33 0 0 0.56 0.72 0.17 0.25 0.31 0 0 0 0 0 0 0 0 0")

# USEPA (2009) Unified Guidance, EPA 530/R-09-007, example 17-6, p. 17-33 (sulfate): data and results read
# from the EnvStats data set and manual. Times are year.month as printed there, not decimal years.
SULFATE_TIMES: Final = _numbers(
    "89.6 89.8 90.1 90.3 90.6 90.8 91.1 91.3 91.6 91.8 92.1 92.6 "
    "93.1 93.6 94.1 94.6 95.1 95.6 95.8 96.1 96.3 96.6 96.8"
)
SULFATE: Final = _numbers(
    "480 450 490 520 485 510 510 530 510 560 560 540 590 550 600 700 570 610 650 620 830 720 590"
)

# The same guidance, example 17-7, p. 17-36 (sodium), read from the same data set and manual.
SODIUM_TIMES: Final = _numbers("89.6 90.1 90.8 91.1 92.1 93.1 94.1 95.6 96.1 96.3")
SODIUM: Final = _numbers("56 53 51 55 52 60 62 59 61 63")
