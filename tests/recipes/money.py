#!/usr/bin/env python3
"""Writes how money is written in many places, and figures to check our own writing against.

Wants babel 2.18, which carries the tables of the Unicode CLDR. Run from the project's root:

    python tests/recipes/money.py

Writes `src/shop/money.csv`, a line a place: the place's currency today, its sign, where the sign stands,
the marks, how digits are grouped, how many stand after the mark, and what cash is rounded to (CLDR's
supplemental currency data). And `tests/data/money.csv`: amounts as babel writes them.

Not CLDR's: a sign that the program's own typefaces lack is replaced, in both files alike.
"""

import csv
from decimal import Decimal

from babel import Locale
from babel.core import get_global
from babel.numbers import format_currency, get_currency_symbol, get_territory_currencies

PLACES = """en_US en_GB en_IE en_CA fr_CA en_AU en_NZ en_ZA en_IN en_SG en_PH ms_MY id_ID de_DE de_AT de_CH fr_CH
it_CH fr_FR fr_BE nl_BE nl_NL es_ES es_MX es_AR es_CL es_CO pt_BR pt_PT it_IT da_DK sv_SE nb_NO fi_FI is_IS et_EE
lv_LV lt_LT pl_PL cs_CZ sk_SK hu_HU sl_SI hr_HR ro_RO el_GR tr_TR uk_UA ja_JP ko_KR zh_CN zh_TW zh_HK th_TH
vi_VN""".split()

# No ties: babel rounds halves to even, a shop away from nothing.
AMOUNTS = ["0", "0.07", "1", "12.49", "999.996", "1234.51", "12345.678", "1234567.891"]

# The typefaces lack the full-width yen and the lira's sign.
OTHER_SIGNS = {"\uffe5": "\u00a5", "\u20ba": "TL"}


def sign_at(pattern):
    front, back = pattern.split("#")[0], pattern.split(";")[0].split("0")[-1]
    assert ("\u00a4" in front) != ("\u00a4" in back), pattern
    words, apart = (("front", "front-apart") if front else ("back-close", "back"))
    return apart if "\u00a0" in front + back else words


def main():
    fractions = get_global("currency_fractions")
    english = Locale.parse("en")
    territories = [place.split("_")[1] for place in PLACES]
    places, figures = [], []
    for place in PLACES:
        locale = Locale.parse(place)
        currency = get_territory_currencies(locale.territory)[0]
        pattern = locale.currency_formats["standard"]
        symbol = get_currency_symbol(currency, locale)
        sign = OTHER_SIGNS.get(symbol, symbol)
        marks = locale.number_symbols["latn"]
        digits, _, cash_digits, cash_rounding = fractions.get(currency, fractions["DEFAULT"])
        in_cash = cash_rounding or cash_digits != digits
        step = Decimal(cash_rounding or 1) / 10**cash_digits if in_cash else Decimal(0)
        name = english.territories[locale.territory]
        if territories.count(locale.territory) > 1:
            name += f", {english.languages[locale.language]}"
        places.append(
            [
                place.replace("_", "-"),
                name,
                currency,
                sign,
                sign_at(pattern.pattern),
                digits,
                marks["decimal"],
                marks["group"],
                {(3, 3): "thousands", (3, 2): "lakhs"}[pattern.grouping],
                step,
            ]
        )
        for amount in AMOUNTS:
            written = format_currency(Decimal(amount), currency, locale=locale)
            figures.append([place.replace("_", "-"), amount, written.replace(symbol, sign)])
    places.sort(key=lambda place: place[1])
    heads = "tag,place,currency,sign,sign_at,decimals,decimal_mark,thousands_mark,grouping,cash_step"
    write("src/shop/money.csv", heads, places)
    write("tests/data/money.csv", "tag,amount,written", figures)


def write(path, heads, rows):
    with open(path, "w", encoding="utf-8", newline="") as file:
        writer = csv.writer(file, lineterminator="\n")
        writer.writerow(heads.split(","))
        writer.writerows(rows)


if __name__ == "__main__":
    main()
