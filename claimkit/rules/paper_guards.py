"""Papers that name many others and are none of them: where their title comes first, so is the text.

Claim forms, tariffs, policies, terms, offers, statements, messages, letters. Common practice, no
source.
"""

from __future__ import annotations

from claimkit.rules.paper_title import PaperWords

GUARDS: tuple[PaperWords, ...] = (
    PaperWords(
        "claim form",
        "other",
        titles=(
            r".*\bclaim form\b.*",
            r".*\bpresentation of .{0,40}\bclaims?\b.*",
            r"(?:notice of )?(?:cargo |freight |loss and damage |concealed damage )+claim\b.*",
            r"r[eé]clamation pour (?:perte|avarie).*",
        ),
        words=(),
        need=0,
        must=("STANDARD FORM FOR PRESENTATION OF LOSS AND DAMAGE CLAIM\nInvoice\nBill of lading",),
        must_not=("BILL OF LADING\nShipper A\nConsignee B\nClaims must be filed in nine months",),
    ),
    PaperWords(
        "tariff",
        "other",
        titles=(r"(?:.{1,30} )?(?:rules |freight )?tariff\b.*", r"rules circular\b.*"),
        words=(),
        need=0,
        must=("RULES TARIFF NKWY 100-F\nItem 420 Delivery receipt\nConsignee signature",),
        must_not=("FREIGHT BILL\nPRO 55\nTotal charges 9.00\nTariff NKWY 100",),
    ),
    PaperWords(
        "insurance policy",
        "other",
        titles=(
            r"(?:.{1,40} )?(?:insurance|marine|cargo|liability|property|floater) policy\b.*",
            r"(?:policy )?declarations?(?: page)?",
            r"certificate of (?:liability )?insurance",
            r"versicherungs(?:schein|police)|police d['’]assurance|p[oó]liza de seguro",
        ),
        words=(),
        need=0,
        must=("Inland Marine Policy\nPolicy number IM-2\nKeep the invoice",),
        must_not=("INVOICE\nQty  Unit price\nInsurance 12.00\nTotal due 9.00",),
    ),
    PaperWords(
        "terms and conditions",
        "other",
        titles=(
            r".*\bterms (?:and|&) conditions\b.*",
            r"(?:general |standard )?(?:conditions|terms) of (?:sale|carriage|contract|"
            r"business)\b.*",
            r"(?:contract|uniform) (?:terms|conditions)\b.*",
            r"allgemeine gesch[aä]ftsbedingungen.*|conditions g[eé]n[eé]rales.*",
            r"condiciones generales.*",
        ),
        words=(),
        need=0,
        must=("Bill of lading terms and conditions\nThe carrier, the shipper and the consignee",),
        must_not=("TAX INVOICE\nQty  Unit price\nTotal 9.00\nTerms and conditions: net 30",),
    ),
    PaperWords(
        "quotation, estimate or pro forma",
        "other",
        titles=(
            r"(?:price |sales |repair |freight )?(?:quotation|quote|estimate|proposal)",
            r"pro-? ?forma(?: invoice)?|proforma-?rechnung|facture pro-? ?forma|factura proforma",
            r"angebot|kostenvoranschlag|devis|presupuesto|cotizaci[oó]n",
        ),
        words=(),
        need=0,
        must=("QUOTATION\nQuote no. 771\nQty  Unit price",),
        must_not=("INVOICE\nQuote no. 771\nQty  Unit price  Amount\nSubtotal 9.00",),
    ),
    PaperWords(
        "statement, credit note or reminder",
        "other",
        titles=(
            r"(?:account |customer )?statement(?: of account)?",
            r"credit (?:memo|memorandum|note|invoice)",
            r"(?:payment )?(?:reminder|past due notice)|(?:remittance|payment) advice",
            r"gutschrift|mahnung|avoir|nota de cr[eé]dito",
        ),
        words=(),
        need=0,
        must=("CREDIT MEMO\nRef. invoice 88120\nQty 1  Unit price 412.50",),
        must_not=("INVOICE\nCredit terms net 30\nQty  Unit price  Subtotal",),
    ),
    PaperWords(
        "message about a carriage",
        "other",
        titles=(
            r"(?:carrier |load |rate )+(?:rate )?(?:confirmation|tender)(?: sheet)?",
            r"(?:arrival|delivery|pre-?arrival|pickup) (?:notice|appointment)",
            r"(?:delivery|pickup|dispatch) (?:order|instructions|request)",
            r"(?:shipment )?tracking(?: (?:details|history|results))?",
            r"(?:weight(?: and [a-z]+)?|reweigh|scale|correction) (?:certificate|ticket|notice)",
        ),
        words=(),
        need=0,
        must=("RATE CONFIRMATION\nLoad 99120\nSend the bill of lading and the invoice",),
        must_not=(
            "DELIVERY RECEIPT\nPRO 55\nConsignee signature\nDriver\nDelivery appointment 9:00",
        ),
    ),
    PaperWords(
        "letter",
        "other",
        titles=(
            r"(?:dear|hello|hi|good (?:morning|afternoon|day)|to whom it may concern)\b.{0,60}",
            r"(?:sehr geehrte|liebe|hallo|cher|ch[eè]re|madame|monsieur|bonjour|"
            r"estimad[oa])\b.{0,60}",
        ),
        words=(),
        need=0,
        must=("Dear Tom,\nInvoice\nQty 4  Unit price 412.50  Subtotal 9.00",),
        must_not=("ORDER CONFIRMATION\nDear Dana,\nThank you for your order\nOrder no. 4471",),
    ),
)
