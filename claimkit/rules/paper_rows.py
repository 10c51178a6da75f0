"""The papers of the trade that a claim may ask for, by their titles and words.

English with the titles of German, French and Spanish papers. Common practice, no source.
"""

from __future__ import annotations

from claimkit.rules.paper_title import PaperWords

_INVOICE = (
    r"(?:tax |sales |commercial |customer |purchase |trade |vat )*invoice",
    r"(?:steuer|handels)?rechnung",
    r"facture(?: commerciale| de vente)?",
    r"factura(?: comercial| de venta)?",
)

TRADE_PAPERS: tuple[PaperWords, ...] = (
    PaperWords(
        "bill of lading",
        "bill of lading",
        titles=(
            r"(?:(?:uniform|straight|domestic|ocean|sea|through|combined transport|multimodal|"
            r"vics|order|household goods|freight|master)[ -])*bills? of lading",
            r"(?:sea |air |house air |master air |express )?waybill",
            r"(?:international |road )*consignment note",
            r"lettre de voiture(?: internationale)?(?: / international consignment note)?",
            r"(?:internationaler )?frachtbrief",
            r"carta de porte(?: internacional)?",
            r"connaissement",
            r"conocimiento de embarque",
        ),
        words=(
            r"\bshippers?\b|\bship from\b|\bsender\b|\bexp[eé]diteur\b|\babsender\b|\bremitente\b",
            r"\bconsignee\b|\bship to\b|\bdestinataire\b|\bempf[aä]nger\b|\b(?:consigna|"
            r"destina)tario\b",
            r"\bcarrier\b|\bscac\b|\btransporteur\b|\bfrachtf[uü]hrer\b|\btransportista\b",
            r"\bnmfc\b|\b(?:freight )?class\b",
            r"\b(?:gross |chargeable )?weight\b|\bpoids\b|\bgewicht\b|\bpeso\b|"
            r"\d[\d,.]* (?:lbs?|kg)\b",
            r"\bin apparent good order\b|\breceived,? subject to\b",
            r"\bfreight charges\b|\bprepaid\b|\bcollect\b|\bthird party\b",
            r"\bhandling units?\b|\bskids?\b|\bpallets?\b|\bpieces\b|\bpackages\b|\bstc\b",
            r"\bhazardous\b|\bh\.? ?m\.?\b|\bcod amount\b|\bport of (?:loading|discharge)\b",
        ),
        must=(
            "STRAIGHT BILL OF LADING\nShip from: A\nShip to: B\nNMFC 157320 class 125\n312 lb",
            "Ashby Freight  Bill of Lading\nB/L no. 7\nShipper: A\nConsignee: B",
            "CONNAISSEMENT\nExpéditeur: A\nDestinataire: B\nPoids 41 kg",
        ),
        must_not=(
            "INVOICE\nBill of lading no. 55120\nShipper: A\nConsignee: B\nQty  Unit price  Amount",
            "Bill of lading terms and conditions\nThe shipper and the consignee shall pay\nCarrier",
            "The bill of lading names shipper and consignee and the carrier signs it.",
        ),
    ),
    PaperWords(
        "freight bill",
        "freight bill",
        titles=(
            r"(?:prepaid |collect |paid |original )*freight (?:bill|invoice)",
            r"(?:carrier|transportation|trucking|shipping|motor carrier) invoice",
            r"freight charges? (?:invoice|bill|statement)",
            r"frachtrechnung",
            r"facture de (?:transport|fret)",
            r"factura de (?:flete|transporte)",
        ),
        shared=_INVOICE,
        words=(
            r"\bfuel(?: surcharge)?\b|\bfsc\b",
            r"\bline ?haul\b|\bcwt\b|\brated? as\b",
            r"\bpro\b ?(?:#|no\b|number|\d)",
            r"\bfreight class\b|\bclass \d+|\bnmfc\b",
            r"\bliftgate\b|\bresidential\b|\baccessorials?\b|\bdetention\b|\blimited access\b",
            r"\bscac\b|\bmotor (?:lines|freight|carrier)\b",
            r"\bprepaid\b|\bcollect\b",
            r"\bshipper\b.*\bconsignee\b|\borigin\b.*\bdestination\b",
            r"\bfreight charges\b|\btotal charges\b|\bpay this amount\b",
        ),
        must=(
            "FREIGHT BILL\nPRO number 558\nFuel surcharge 31.2 %\nTotal charges 486.20",
            "INVOICE\nPro# 77\nLinehaul 402.10\nFuel surcharge 66.40\nLiftgate 75.00\nAmount due 1",
        ),
        must_not=(
            "INVOICE\nQty  Unit price  Amount\n4  412.50  1,650.00\nFreight 180.00\nSubtotal 1,830",
            "Please pay the freight bill, PRO 558. The fuel surcharge is wrong.",
        ),
    ),
    PaperWords(
        "invoice",
        "invoice",
        titles=_INVOICE,
        words=(
            r"\bunit (?:price|cost)\b|\bprice each\b|\beinzelpreis\b|\bprix unitaire\b|"
            r"\bprecio unitario\b|\d @ \d|\bat \d[\d,]*\.\d\d\b",
            r"\bqty\b|\bquantity\b|\bmenge\b|\bquantit[eé]\b|\bcantidad\b",
            r"\bdescription(?: of goods)?\b|\bart(?:ikel|icle)\b|\bitem\b|\bdescripci[oó]n\b",
            r"\bpart (?:no|number|#)|\bsku\b|\bitem (?:no|number|#)|\bhs code\b",
            r"\bsub-?total\b|\bextended\b|\bzwischensumme\b|\bsous-total\b",
            r"\b(?:sales )?tax\b|\bvat\b|\bgst\b|\bmwst\b|\btva\b|\biva\b",
            r"\binvoice date\b|\bbill to\b|\bsold to\b|\bbuyer\b|\brechnungsdatum\b",
            r"\btotal(?: due)?\b|\bbalance due\b|\bamount due\b|\brechnungsbetrag\b",
            r"\bpayment terms\b|\bnet \d+\b|\bpo (?:no|number|#)|\bcustomer po\b",
        ),
        never=(r"\bnot an? invoice\b|\bpro-? ?forma\b|\bkeine rechnung\b",),
        must=(
            "INVOICE\nBill to: A\nQty  Unit price  Amount\n4  412.50\nSubtotal 1,650.00",
            "Dorn Bath Works\nInvoice # 10-4471\nSold to: A\nQuantity  Unit price\nBalance due "
            "9.00",
        ),
        must_not=(
            "PRO FORMA INVOICE\nQuantity  Unit price\n2  310.00\nTotal 620.00",
            "The invoice is with Tom. Unit price 412.50, quantity 4, total 1,650.00.",
            "PACKING SLIP\nInvoice no. 88120\nQty shipped  Description\n4  Wall panel",
        ),
    ),
    PaperWords(
        "repair invoice",
        "repair invoice",
        titles=(
            r"(?:repair|service|labou?r) (?:invoice|bill)",
            r"invoice for repairs?",
            r"reparaturrechnung",
            r"facture de r[eé]paration",
            r"factura de reparaci[oó]n",
        ),
        shared=_INVOICE,
        words=(
            r"\brepair(?:s|ed|ing)?\b|\breparatur\b|\br[eé]paration\b|\breparaci[oó]n\b",
            r"\blabou?r\b|\barbeitszeit\b|\bmain[- ]d['’]?[oœ]e?uvre\b|\bmano de obra\b",
            r"\d ?(?:hours?|hrs?|h)\b|\bhourly\b",
            r"\bmaterials\b|\bresin\b|\brefinish|\bgel ?coat\b|\bfiller\b|\bcolou?r match",
            r"\btechnician\b|\bservice call\b|\bcall-?out\b|\bon site\b",
            r"\bcrack(?:ed)?\b|\bchip(?:ped)?\b|\bdent(?:ed)?\b",
        ),
        must=(
            "REPAIR INVOICE\nRepair of cracked tray\nLabor 3.5 hours @ 85.00",
            "INVOICE\nRepair of chipped corner\nLabour 2 h\nMaterials: resin\nTotal 90.00",
        ),
        must_not=(
            "INVOICE\nQty  Item  Unit price\n2  Repair kit  46.00\nSubtotal 92.00",
            "ESTIMATE\nRepair of cracked tray\nLabor 3 hours\nMaterials 46.00",
        ),
    ),
    PaperWords(
        "delivery receipt",
        "delivery receipt",
        titles=(
            r"(?:freight |signed |carrier )*deliver(?:y|ies) receipt",
            r"(?:signed )?proof of delivery(?: \(?pod\)?)?",
            r"delivery (?:note|record|acknowledg(?:e)?ment|confirmation)",
            r"(?:pod|p\.o\.d\.)",
            r"lieferschein|ablieferungsbeleg|empfangsbest[aä]tigung",
            r"bon de livraison|preuve de livraison",
            r"albar[aá]n(?: de entrega)?|nota de entrega|comprobante de entrega",
        ),
        words=(
            r"\breceived (?:by|in good)\b|\bgoods received\b|\bempfangen\b|\bre[cç]u par\b|"
            r"\brecibido por\b",
            r"\bsignature\b|\bsigned by\b|\bunterschrift\b|\bfirma\b",
            r"\bconsignee\b|\bdelivered to\b|\bdestinataire\b|\bempf[aä]nger\b",
            r"\bexceptions?\b|\bgood order\b|\bgood condition\b|\br[eé]serves\b|\bvorbehalt",
            r"\bdriver\b|\btime in\b|\btime out\b|\barrived\b|\bfahrer\b|\bchauffeur\b|"
            r"\bconductor\b",
            r"\bpieces? delivered\b|\bpcs delivered\b|\bdelivery date\b|\bdate delivered\b|"
            r"\bdelivered (?:on|at)?\b",
            r"\bpro\b ?(?:#|no\b|number|\d)",
        ),
        must=(
            "PROOF OF DELIVERY\nPRO 558\nPieces delivered: 1\nReceived by: A  Signature",
            "Delivery Note\nDelivered to: 9 Kiln Road\nGoods received by: A\nSignature",
        ),
        must_not=(
            "RATE CONFIRMATION\nSend proof of delivery, signature of consignee and driver",
            "STRAIGHT BILL OF LADING\nShipper A\nConsignee B\nDelivery receipt no. 7\nDriver",
        ),
    ),
    PaperWords(
        "packing list",
        "packing list",
        titles=(
            r"(?:export |detailed )?packing (?:list|slip)",
            r"(?:packliste|packzettel)",
            r"(?:liste|bordereau) de colisage",
            r"lista de (?:empaque|embalaje|contenido)",
            r"pack(?:ing)? sheet|shipping list",
        ),
        words=(
            r"\bqty\b|\bquantity\b|\bmenge\b|\bquantit[eé]\b|\bcantidad\b",
            r"\bshipped\b|\bback ?ordered\b|\bordered\b",
            r"\bcartons?\b|\bcrates?\b|\bboxe?s?\b|\bpackages?\b|\bcolis\b|\bkisten?\b|"
            r"\bkartons?\b|"
            r"\bcajas?\b|\bbultos?\b",
            r"\bnet weight\b|\bgross weight\b|\bpoids (?:net|brut)\b|\b(?:netto|brutto)gewicht\b|"
            r"\bpeso (?:neto|bruto)\b|\bdimensions\b",
            r"\bmarks\b|\bcontents\b|\bdescription\b|\bitem\b|\binhalt\b",
            r"\bship(?:ped)? date\b|\border (?:no|number|#)",
        ),
        must=(
            "PACKING SLIP\nOrder no. 4471\nQty ordered  Qty shipped  Description\n4  4  Wall panel",
            "Liste de colisage\nColis 1: paroi, quantité 2, poids net 41 kg",
        ),
        must_not=(
            "INVOICE\nPacking list no. 7\nQty  Unit price  Amount\nSubtotal 9.00\nCarton 1 of 4",
            "Dear Tom,\nsend us the packing list, with quantity and net weight of each carton.",
        ),
    ),
    PaperWords(
        "inspection report",
        "inspection report",
        titles=(
            r"(?:freight |cargo |carrier(?:'s)? |damage |concealed damage |joint |own )*"
            r"inspection (?:report|record)(?: (?:of|for|on) .{3,60})?",
            r"(?:cargo |damage |freight )*survey report",
            r"damage (?:inspection|survey|report)",
            r"report of (?:inspection|survey)",
            r"(?:schadens|besichtigungs)(?:bericht|protokoll)",
            r"rapport (?:d['’](?:inspection|expertise)|de constat)",
            r"informe de (?:inspecci[oó]n|peritaje)",
        ),
        words=(
            r"\binspect(?:or|ed)\b|\bsurveyor\b|\binspecteur\b|\binspector\b|\bgutachter\b|"
            r"\bperito\b",
            r"\bdate of (?:inspection|survey)\b|\binspection date\b|\binspected (?:at|on|by)\b",
            r"\b(?:description|extent|nature) of (?:the )?(?:damage|loss)\b|\bdamaged? (?:found|"
            r"seen)\b|"
            r"\bdommages?\b|\bschaden\b|\bda[ñn]os?\b",
            r"\bpacking\b|\bcontainer\b|\bcarton\b|\bemballage\b|\bverpackung\b",
            r"\bcause of (?:damage|loss)\b|\bin our opinion\b",
            r"\bconsignee\b|\bcarrier\b",
            r"\bsalvage\b|\bmoisture\b|\bdunnage\b|\bcrushed\b|\bcracked\b|\bphotographs?\b",
        ),
        must=(
            "INSPECTION REPORT\nInspector: J. Pell\nDate of inspection: 5/12\nNature of damage: "
            "crushed",
            "Damage Survey Report\nSurveyor: K. Lind\nCause of damage: a fall",
            "Inspection report, PRO no. 774-1052\nInspected on 5/12\nThe carton is crushed",
        ),
        must_not=(
            "HOME INSPECTION AGREEMENT\nThe inspector reports on the carton and the carrier",
            "You may ask the carrier for an inspection report; the inspector notes the packing.",
        ),
    ),
    PaperWords(
        "instructions",
        "instructions",
        titles=(
            r"(?:.{1,40} )?(?:installation|assembly|mounting|handling|operating|care|user)"
            r"(?: and [a-z]+)? (?:instructions?|manual|guide)(?: sheet)?",
            r"(?:installer|owner|user)(?:'s|s)? (?:manual|guide)",
            r"instructions (?:for|de) .{3,40}",
            r"(?:.{1,30} )?(?:montage|einbau|aufbau|bedienungs)anleitung",
            r"(?:instructions|notice|guide) (?:d['’]installation|de montage|de pose)",
            r"(?:instrucciones|manual|gu[ií]a) de (?:instalaci[oó]n|montaje)",
        ),
        words=(
            r"\bstep \d|\bschritt \d|\b[eé]tape \d|\bpaso \d",
            r"\btools? (?:required|needed)\b|\byou will need\b|\bwerkzeug\b|\boutils\b|"
            r"\bherramientas\b",
            r"\bread (?:all|these|the|carefully)\b|\bbefore you (?:begin|start)\b|\bbefore install",
            r"\bcaution\b|\bwarning\b|\bwarranty\b|\bachtung\b|\battention\b",
            r"\bdry fit\b|\blevel\b|\bplumb\b|\bfasten|\bscrews?\b|\bsealant\b|\bcaulk|\bstuds?\b",
            r"\bparts (?:list|included)\b|\bfig(?:ure)?\.? \d",
        ),
        must=(
            "INSTALLATION INSTRUCTIONS\nTools required: level, drill\nStep 1 Check the studs",
            "Montageanleitung\nBenötigtes Werkzeug: Wasserwaage\nSchritt 1: prüfen",
        ),
        must_not=(
            "DELIVERY INSTRUCTIONS\nCall before delivery. Liftgate needed. Step 1 of dock",
            "INVOICE\n1  Installation manual  5.00\nQty  Unit price",
        ),
    ),
    PaperWords(
        "order",
        "order",
        titles=(
            r"(?:purchase|sales) order",
            r"order (?:confirmation|acknowledg(?:e)?ment|form)",
            r"(?:your )?order (?:is|has been) confirmed",
            r"auftragsbest[aä]tigung|bestellung",
            r"confirmation de (?:la |votre )?commande|bon de commande",
            r"(?:confirmaci[oó]n de(?:l)?|orden de) (?:pedido|compra)",
        ),
        words=(
            r"\border (?:no|number|date|#)|\bbestellnummer\b|\bn[o°º]? de commande\b",
            r"\bp\.?o\.? (?:no|number|#|date)|\bvendor\b|\bsupplier\b",
            r"\bthank you for your (?:order|purchase)\b",
            r"\bestimated (?:ship|delivery|arrival)|\brequired (?:by|date)\b|\bship(?:ping)? "
            r"date\b",
            r"\bqty\b|\bquantity\b|\bunit price\b|\bmenge\b|\bquantit[eé]\b|\d ?x [a-z]",
            r"\bship to\b|\bbill to\b|\bdeliver to\b|\bsold to\b",
            r"\bauthori[sz]ed by\b|\bbuyer\b",
        ),
        by_mail=True,
        must=(
            "PURCHASE ORDER\nP.O. number 4471\nVendor: A\nQty  Unit price",
            "Order confirmation 4471\nThank you for your order\nOrder number: 4471\nShip to: B",
        ),
        must_not=(
            "INVOICE\nPurchase order no. 4471\nQty  Unit price  Subtotal\nShip to: A\nTotal due "
            "9.00",
            "Delivery order\nCall the vendor. Quantity 2. Ship to: A",
        ),
    ),
    PaperWords(
        "packing evidence",
        "packing evidence",
        titles=(
            r"(?:statement|certificate|declaration|record) of packing",
            r"packing (?:statement|certificate|record|specification|procedure|report|evidence)",
            r"(?:pre-?shipment|outgoing|final) (?:inspection|quality|packing) (?:record|report|"
            r"check)",
            r"verpackungs(?:nachweis|protokoll|vorschrift)",
            r"(?:attestation|certificat) d['’]emballage",
            r"certificado de embalaje",
        ),
        words=(
            r"\bwe (?:packed|inspected)\b|\bwere (?:packed|inspected)\b|\bpacked by\b|\bpacked "
            r"on\b",
            r"\bfoam\b|\bcorner (?:posts?|protectors?)\b|\bedge protect|\bstrapp|\bbanded\b|"
            r"\bshrink",
            r"\bdouble[- ]wall\b|\bcartons?\b|\bcrates?\b|\bskids?\b|\bpallets?\b",
            r"\bfree (?:of|from) (?:damage|defects?)\b|\bin good (?:order|condition)\b|"
            r"\bundamaged\b",
            r"\bista\b|\bdrop test\b|\bbox strength\b|\bcrush test\b",
        ),
        must=(
            "STATEMENT OF PACKING\nWe packed the panels in double wall cartons with foam corners",
            "Packing specification\nDouble-wall carton, corner posts, strapped to a pallet",
        ),
        must_not=(
            "PACKING LIST\nCarton 1 of 4\nQuantity 2\nNet weight 41 kg",
            "Dear Tom, please send a statement of packing: foam, cartons, skids.",
        ),
    ),
)
