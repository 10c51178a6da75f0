"""Currency codes and how many decimals each currency has.

The codes are the current national currencies of ISO 4217, list one, without funds, metals and
test codes; some that were replaced lately stay, since an older invoice may carry them. The list
and the minor units were read in a republished copy of the maintenance agency's list; XCG (2025)
and ZWG (2024) are from memory.
"""

from __future__ import annotations

_CURRENT = """
    AED AFN ALL AMD ANG AOA ARS AUD AWG AZN BAM BBD BDT BGN BHD BIF BMD BND BOB BRL BSD BTN BWP
    BYN BZD CAD CDF CHF CLP CNY COP CRC CUP CVE CZK DJF DKK DOP DZD EGP ERN ETB EUR FJD FKP GBP
    GEL GHS GIP GMD GNF GTQ GYD HKD HNL HTG HUF IDR ILS INR IQD IRR ISK JMD JOD JPY KES KGS KHR
    KMF KPW KRW KWD KYD KZT LAK LBP LKR LRD LSL LYD MAD MDL MGA MKD MMK MNT MOP MRU MUR MVR MWK
    MXN MYR MZN NAD NGN NIO NOK NPR NZD OMR PAB PEN PGK PHP PKR PLN PYG QAR RON RSD RUB RWF SAR
    SBD SCR SDG SEK SGD SHP SLE SOS SRD SSP STN SVC SYP SZL THB TJS TMT TND TOP TRY TTD TWD TZS
    UAH UGX USD UYU UZS VED VES VND VUV WST XAF XCD XCG XOF XPF YER ZAR ZMW ZWG
    """
CODES = frozenset(_CURRENT.split())

_USUAL_DECIMALS = 2
_WITHOUT_DECIMALS = "BIF CLP DJF GNF ISK JPY KMF KRW PYG RWF UGX VND VUV XAF XOF XPF"
_THREE_DECIMALS = "BHD IQD JOD KWD LYD OMR TND"
_OTHER_DECIMALS = dict.fromkeys(_WITHOUT_DECIMALS.split(), 0) | dict.fromkeys(
    _THREE_DECIMALS.split(), 3
)

# What a symbol may mean, the commonest first; a symbol alone never decides.
SYMBOLS = {
    "US$": ("USD",),
    "C$": ("CAD",),
    "CA$": ("CAD",),
    "A$": ("AUD",),
    "$": ("USD", "CAD", "AUD"),
    "€": ("EUR",),
    "£": ("GBP",),
    "¥": ("JPY", "CNY"),
}


def decimals(code: str) -> int:
    """Give how many decimals amounts in this currency have (ISO 4217, minor unit)."""
    return _OTHER_DECIMALS.get(code, _USUAL_DECIMALS)
