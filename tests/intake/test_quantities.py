"""Quantities are read exactly where they have one reading, and refused where they have two.

Exact factors: NIST Special Publication 811 (2008), appendix B.8, and NIST Handbook 44, appendix C
(1 in = 25.4 mm, 1 ft = 0.3048 m, 1 lb = 0.453 592 37 kg, 1 oz = 28.349 523 125 g; 1 short ton =
907.184 74 kg, 1 long ton = 1 016.046 908 8 kg). Minor units: ISO 4217, list one. Expected values
are typed from these or computed by the test with whole numbers only.
"""

from __future__ import annotations

from collections.abc import Callable
from decimal import Decimal
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from claimkit.intake.entries.contracts import money, span
from claimkit.intake.entries.problems import Unreadable
from claimkit.intake.entries.quantities import length, temperature, weight
from claimkit.rules.currencies import CODES, decimals

F = Fraction


def refusal(read: Callable[[str], Any], text: str) -> str:
    with pytest.raises(Unreadable) as caught:
        read(text)
    assert caught.value.found.endswith(".")
    assert caught.value.write.endswith(".")
    return f"{caught.value.found} {caught.value.write}"


@pytest.mark.parametrize(
    "text, mm",
    [
        ("3/16 in", F(381, 80)),  # 3/16 × 25.4 = 4.7625
        ('1 1/8"', F("28.575")),  # an inch mark for a unit
        ("1-1/8 in", F("28.575")),  # a dash between whole and fraction, as drawings have it
        ("1 - 1/8 in", F("28.575")),  # the same with spaces
        ("0.19 in", F("4.826")),  # decimal inches
        (".5 in", F("12.7")),  # no digit before the point
        ("9/8 in", F("28.575")),  # an improper fraction alone is exact
        ("5 mm", F(5)),
        ("5mm", F(5)),  # no space
        ("1.5 cm", F(15)),
        ("2.1 m", F(2100)),
        ("1 in", F("25.4")),  # NIST SP 811
        ("1 ft", F("304.8")),  # NIST SP 811
        ("6 ft 2 in", F("1879.6")),  # 74 in
        ("6ft2in", F("1879.6")),
        ("6 ft. 2 in.", F("1879.6")),  # abbreviations with points
        ("6 feet, 2 inches", F("1879.6")),
        ("5' 3 1/2\"", F("1612.9")),  # 63.5 in
        ("5'-3 1/2\"", F("1612.9")),  # drawings put a dash after the feet
        ("5' 3\"", F("1600.2")),
        ("5\u2032 3\u00bd\u2033", F("1612.9")),  # primes and a one-character fraction
        ("5\u2019 3 1/2\u201d", F("1612.9")),  # curly quotes, as phones put them
        ("5''", F(127)),  # two single quotes for an inch mark
        ("1\u00bd in", F("38.1")),  # ½ right after the whole number is 1 1/2, not 11/2
        ("\u215b in", F("3.175")),  # ⅛
        ("1 \u00b3\u2044\u2081\u2086 in", F(2413, 80)),  # ³⁄₁₆ set with raised and lowered digits
        ("1\u00a01/8\u00a0in", F("28.575")),  # hard spaces
        ("4,8 mm", F("4.8")),  # a comma before one digit can only mark decimals
        ("4,85 mm", F("4.85")),
        ("0,125 in", F("3.175")),  # no group of thousands begins with zero
        ("1,250.5 mm", F("1250.5")),  # with a point after it the comma groups
        ("0 mm", F(0)),  # a closed gap
        ("-2 mm", F(-2)),  # an offset to the other side
        ("\u22122 mm", F(-2)),  # a true minus sign
        ("+1/8 in", F("3.175")),
        ("-1 1/8 in", F("-28.575")),  # the sign is of the whole
    ],
)
def test_lengths_are_exact(text: str, mm: Fraction) -> None:
    read = length(text)
    assert read.mm == mm
    assert read.written == text


@pytest.mark.parametrize(
    "text, says",
    [
        ("3/16", "'3/16 in' or '3/16 mm'"),  # no unit: both are offered
        ("5", "has no unit"),
        ("1,250 mm", "1250 or 1.250"),  # a group of thousands or three decimals
        ("12,125 in", "12125 or 12.125"),
        ("5'3", "without its unit"),  # inches without a mark
        ("6 ft 14 in", "do not go together"),  # over a foot of inches: a slip
        ("5 1/2 ft 3 in", "do not go together"),
        ("2 in 3 ft", "do not go together"),  # the wrong way round
        ("2 m 10 cm", "do not go together"),
        ("1 9/8 in", "fraction of one or more"),
        ("1 8/8 in", "fraction of one or more"),
        ("3/0 in", "divides by zero"),
        ("1 -1/8 in", "not a number"),  # one and minus an eighth?
        ("2-4 mm", "not a number"),  # a range
        ("1 250 mm", "not a number"),  # grouped by a space, or 1 and 250?
        ("1.250,5 mm", "not a number"),
        ("5 yd", "not known here"),
        ("5 mil", "not known here"),  # thousandths of an inch, or millimetres
        ("about 5 mm", "not a length"),
        ("5 mm or so", "not known here"),
        ("1e3 mm", "not known here"),
        ("\u0665 mm", "not a length"),  # an Arabic five: not guessed
        ("200 m", "longer than 100 m"),
        ("", "not a length"),
        ("9" * 100 + " mm", "too long"),
    ],
)
def test_what_is_no_length_or_two_is_refused(text: str, says: str) -> None:
    assert says in refusal(length, text)


wholes, tops = st.integers(0, 90), st.integers(1, 63)
bottoms = st.sampled_from([2, 4, 8, 16, 32, 64])
ways = st.sampled_from(
    [
        "{w} {n}/{d} in",
        "{w}-{n}/{d} in",
        '{w} {n}/{d}"',
        "{w} {n}/{d}\u2033",
        "{w}  {n} / {d} inches",
    ]
)


@given(wholes, tops, bottoms, ways)
def test_mixed_inches_by_whole_numbers(whole: int, top: int, bottom: int, way: str) -> None:
    top = top % bottom or 1
    read = length(way.format(w=whole, n=top, d=bottom))
    # 25.4 = 127/5; the test adds and multiplies whole numbers only
    assert read.mm.numerator * 5 * bottom == (whole * bottom + top) * 127 * read.mm.denominator


@given(st.integers(0, 999_999), st.integers(0, 4), st.sampled_from([".", ","]))
def test_decimals_by_whole_numbers(digits: int, places: int, mark: str) -> None:
    text = f"{digits:0{places + 1}d}"
    text = f"{text[:-places]}{mark}{text[-places:]}" if places else text
    whole = text.split(mark)[0]
    could_group = mark == "," and places == 3 and whole[0] != "0" and len(whole) <= 3
    if could_group:
        assert whole + text[-3:] in refusal(length, f"{text} mm")
    elif digits <= 100_000 * 10**places:
        assert length(f"{text} mm").mm * 10**places == digits


@given(st.integers(0, 300), st.integers(0, 11), st.integers(0, 15))
def test_feet_and_inches_by_sixteenths(feet: int, inches: int, sixteenths: int) -> None:
    text = f"{feet}' {inches} {sixteenths}/16\""
    assert length(text).mm == F((feet * 12 + inches) * 16 + sixteenths, 16) * F(127, 5)


@pytest.mark.parametrize(
    "text, kg",
    [
        ("1 lb", F("0.45359237")),  # NIST SP 811
        ("1 oz", F("0.028349523125")),  # NIST Handbook 44
        ("1 short ton", F("907.18474")),  # NIST Handbook 44
        ("1 long ton", F("1016.0469088")),  # NIST Handbook 44
        ("1 tonne", F(1000)),
        ("412 lb", F("186.88005644")),  # 412 × 0.45359237
        ("412 lbs.", F("186.88005644")),
        ("412#", F("186.88005644")),  # the freight trade's sign for pounds
        ("1,412 lbs", F("640.47242644")),  # bills group pounds with commas
        ("8 lb 4 oz", 132 * F("0.028349523125")),  # 132 oz
        ("187 kg", F(187)),
        ("500 g", F("0.5")),
        ("12,5 kg", F("12.5")),
    ],
)
def test_weights_are_exact(text: str, kg: Fraction) -> None:
    read = weight(text)
    assert read.kg == kg
    assert read.written == text


@pytest.mark.parametrize(
    "text, says",
    [
        ("2 tons", "which ton"),  # 2,000 lb, 2,240 lb or 1,000 kg
        ("1 t", "which ton"),
        ("1,250 kg", "1250 or 1.250"),  # kilograms are written in countries that mark decimals so
        ("412", "not a weight with its unit"),
        ("3 cwt", "not known here"),  # 100 or 112 lb
        ("8 lb 16 oz", "do not go together"),
        ("90 tonnes", "heavier than 50 tonnes"),
    ],
)
def test_weights_with_two_readings_are_refused(text: str, says: str) -> None:
    assert says in refusal(weight, text)


@pytest.mark.parametrize(
    "text, celsius",
    [
        ("18 C", F(18)),
        ("18C", F(18)),
        ("18 °C", F(18)),
        ("18 ℃", F(18)),  # one character
        ("18,5 C", F("18.5")),
        ("-5 C", F(-5)),
        ("32 F", F(0)),  # NIST SP 811, B.8: (t/°F − 32)/1.8
        ("50 F", F(10)),
        ("64 F", F(160, 9)),  # 17.777… °C: kept exact
        ("64° F", F(160, 9)),
        ("-40 F", F(-40)),  # the two scales meet
        ("72 degrees F", F(200, 9)),
    ],
)
def test_temperatures(text: str, celsius: Fraction) -> None:
    assert temperature(text).celsius == celsius


@pytest.mark.parametrize(
    "text, says",
    [
        ("64", "scale"),
        ("64 °", "scale"),  # a degree of which
        ("290 K", "scale"),
        ("100 C", "outside -60 to 80"),  # no piece is that hot: Fahrenheit is meant
        ("-80 F", "outside -60 to 80"),
    ],
)
def test_temperatures_that_cannot_be_meant(text: str, says: str) -> None:
    assert says in refusal(temperature, text)


@pytest.mark.parametrize(
    "text, amount, code",
    [
        ("1,250.00 USD", "1250.00", "USD"),
        ("USD 1250", "1250", "USD"),
        ("USD1,250.00", "1250.00", "USD"),
        ("1250 usd", "1250", "USD"),  # the code in small letters is still the code
        ("1,250 USD", "1250", "USD"),  # no amount in dollars has three decimals
        ("1.250,00 EUR", "1250.00", "EUR"),  # two decimals after the comma: dots group
        ("1250,00 EUR", "1250.00", "EUR"),
        ("1\u202f250,00 EUR", "1250.00", "EUR"),  # grouped by a narrow space
        ("1.234.567 EUR", "1234567", "EUR"),  # two dots can only group
        ("12,5 EUR", "12.5", "EUR"),
        (".50 USD", "0.50", "USD"),
        ("0 USD", "0", "USD"),
        ("-5.00 USD", "-5.00", "USD"),  # the sign is read; the field refuses it
        ("1250 JPY", "1250", "JPY"),
        ("$1,250.00 USD", "1250.00", "USD"),  # the sign and the code say the same
        ("USD $1,250.00", "1250.00", "USD"),
        ("CAD $5", "5", "CAD"),
        ("1.250 KWD", "1.250", "KWD"),  # three decimals (ISO 4217)
    ],
)
def test_money_is_exact(text: str, amount: str, code: str) -> None:
    read = money(text)
    assert (read.amount, read.currency, read.written) == (Decimal(amount), code, text)
    assert read.amount.as_tuple() == Decimal(amount).as_tuple()  # as many decimals as written


@pytest.mark.parametrize(
    "text, says",
    [
        ("1250", "'1250 USD'"),  # no currency
        ("$1,250.00", "'1,250.00 USD', '1,250.00 CAD' or '1,250.00 AUD'"),
        ("1,250.00 $", "which currency"),
        ("€1.250,00", "'1.250,00 EUR'"),  # the sign is plain, the code is still wanted
        ("US$ 5", "'5 USD'"),
        ("5 UDS", "not a currency code"),  # letters swapped
        ("5 XAU", "not a currency code"),  # gold is in the list of codes and is no currency
        ("€5 USD", "not an amount"),  # the sign and the code say different things
        ("12.345 USD", "has 2 decimals"),
        ("1250.50 JPY", "has no decimals"),
        ("1.2345 KWD", "has 3 decimals"),
        ("1,250 KWD", "1.250 or 1250"),  # three decimals, or a group of thousands
        ("1,25,000 INR", "not an amount"),
        ("USD", "not an amount"),
        ("twelve USD", "not an amount"),
        ("5 USD 50", "not an amount"),
        ("9999999999999999 USD", "too large"),
    ],
)
def test_money_that_is_refused(text: str, says: str) -> None:
    assert says in refusal(money, text)


@given(st.integers(0, 10**11), st.booleans(), st.booleans())
def test_money_by_cents(cents: int, grouped: bool, code_first: bool) -> None:
    whole, rest = divmod(cents, 100)
    number = f"{whole:,}.{rest:02d}" if grouped else f"{whole}.{rest:02d}"
    read = money(f"USD {number}" if code_first else f"{number} USD")
    assert read.amount * 100 == cents
    european = number.replace(",", "_").replace(".", ",").replace("_", ".")
    assert money(f"{european} EUR").amount * 100 == cents


# ISO 4217, list one: currencies whose minor unit is not two.
@pytest.mark.parametrize(
    "places, codes",
    [
        (0, "BIF CLP DJF GNF ISK JPY KMF KRW PYG RWF UGX VND VUV XAF XOF XPF"),
        (3, "BHD IQD JOD KWD LYD OMR TND"),
    ],
)
def test_minor_units(places: int, codes: str) -> None:
    listed = set(codes.split())
    assert listed <= CODES
    assert {code for code in CODES if decimals(code) == places} == listed


@pytest.mark.parametrize("code", ["USD", "CAD", "MXN", "EUR", "GBP", "CHF", "AUD", "CNY", "XCD"])
def test_codes_that_a_bill_may_carry(code: str) -> None:
    assert money(f"1.00 {code}").currency == code


@pytest.mark.parametrize(
    "text, expected",
    [
        ("5 business days", (5, "business days", 0)),
        ("5 working days", (5, "business days", 0)),
        ("15 calendar days", (15, "calendar days", 0)),
        ("1 calendar day", (1, "calendar days", 0)),
        ("9 months", (9, "months", 0)),
        ("Nine months", (9, "months", 0)),
        ("nine (9) months", (9, "months", 0)),  # as contracts state it
        ("2 years", (2, "years", 0)),
        ("2 years and 1 day", (2, "years", 1)),
        ("two (2) years and one (1) day", (2, "years", 1)),
        ("2 years plus one day", (2, "years", 1)),
        ("48 hours", (48, "hours", 0)),
        ("2 weeks", (14, "calendar days", 0)),
        ("2 yrs.", (2, "years", 0)),
    ],
)
def test_periods(text: str, expected: tuple[int, str, int]) -> None:
    read = span(text)
    assert (read.count, read.unit, read.extra_days) == expected
    assert read.written == text


@pytest.mark.parametrize(
    "text, says",
    [
        ("5 days", "'5 calendar days' or '5 business days'"),  # they end on different dates
        ("nine (6) months", "9 in words and 6 in figures"),
        ("0 months", "plausible"),
        ("200 years", "plausible"),
        ("-5 months", "not a period"),
        ("2 years and 5 days", "not a period"),
        ("5 business days and 1 day", "not a period"),
        ("soon", "not a period"),
        ("9", "not a period"),
    ],
)
def test_periods_that_are_refused(text: str, says: str) -> None:
    assert says in refusal(span, text)


@given(st.text(max_size=80))
def test_any_text_is_read_or_refused(text: str) -> None:
    """Nothing but a sentence ever comes out of a text that is no quantity."""
    for read in (length, weight, temperature, money, span):
        try:
            value: Any = read(text)
        except Unreadable:
            assert refusal(read, text)
        else:
            assert value.written == text
