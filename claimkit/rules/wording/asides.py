"""Words on a receipt that are no statement about these goods: print, labels, cases, other loads.

They are found first, and what they cover cannot become an exception, a reservation or a clear
statement. `effect` says how far a row reaches: its own words, the clause, the sentence.
"""

from __future__ import annotations

from claimkit.rules.wording.row import WordingRule

OWN = "claimkit method: grades of a receipt"
SEE = "see|find|found|seen|notice|spot|saw|detect"
LIST_THEM = "report|note|list|write|mark|record|specify|state"
NOTABLE = "exceptions|exception|damage|damages|shortage|shortages|discrepancies|defects|overages"
UNLESS = (
    "as|otherwise|where|when|if|for? any|the|an|a? "
    f"{NOTABLE}? or|and? {NOTABLE}? is|are|be|has|have? been? otherwise|so|specifically|"
    "expressly|clearly|specially?"
)
NOTED = (
    "noted|shown|indicated|specified|stated|listed|marked|described|written|recorded|follows|"
    "reported|otherwise otherwise? below|hereon|herein|above|hereof|here|otherwise|on? the|this? "
    "receipt|bill|face|form?"
)

ASIDES: tuple[WordingRule, ...] = (
    WordingRule(
        id="small-print",
        what="small print",
        effect="mask",
        phrases=(
            f"please? {LIST_THEM} any|all {NOTABLE} or|and? {NOTABLE}? below|here|hereon|above?",
            f"please? {LIST_THEM} {NOTABLE} or|and? {NOTABLE}? below|here|hereon|above",
            "contents and|& condition of contents ~3 unknown",
            "shippers? load and|& count",
            "said to contain",
            "subject|subj to ~5 terms|tariff|tariffs|conditions|classification|classifications|"
            "rules|rates|charges|charge|fees|fee|contract|contracts|provisions|agreement|"
            "availability|weather|change|approval|fine|policy|section|detention|limitations|"
            "redelivery|storage|credit|accessorials|delay|delays|surcharge|restocking|tax|search",
            "claims ~3 must|shall|will|should ~8 days|hours|hrs",
            "not responsible|liable for ~6 damage|damages|loss|shortage|breakage|shortages|missing",
            "no liability for ~4 damage|loss",
            "properly classified ~8 condition",
        ),
        why="Printed words say nothing about this load.",
        citation=OWN,
        mark="M",
        must_flag=("please list exceptions below", "subject to the terms and conditions"),
        must_pass=("rec'd in good order", "note ctn 2 crushed below the lid"),
    ),
    WordingRule(
        id="print-until-noted",
        what="small print",
        effect="mask print",
        phrases=(
            f"except|unless|exept|excpt|exc|xcept|excepting|expect {UNLESS} {NOTED}",
            f"unless|except {NOTED}",
            "exceptions|exception|damage|shortages as follows",
            f"if|where|when no|not {UNLESS} {NOTED}",
        ),
        why="Printed good order is held only until something is noted, and states nothing.",
        citation=OWN,
        mark="M",
        must_flag=(
            "RECEIVED IN APPARENT GOOD ORDER EXCEPT AS NOTED",
            "no exceptions unless noted below",
            "consignee certifies good condition unless exceptions are listed here",
        ),
        must_pass=("rec'd in good order", "good order except loveseat leg snapped"),
    ),
    WordingRule(
        id="small-print-sentence",
        what="small print",
        effect="mask sentence",
        phrases=(
            "consignee|customer|receiver|undersigned|recipient|buyer|purchaser ~1 agrees|"
            "acknowledges|certifies|hereby|must|shall|assumes|warrants|should|agree",
            "by|your|my signing|signature|signiture ~3 below|here|acknowledges|acknowledge|"
            "confirms|constitutes|certifies|indicates|agree|you|i|verifies|means",
            "signature|sign ~2 acknowledges|constitutes|confirms|indicates|certifies|verifies",
            "i|we hereby? acknowledge|certify",
            "i|we hereby",
            "this is to certify",
            "carrier|company|seller|shipper is|are|be|shall|will? not liable|responsible",
            "carrier|company|seller assumes",
            "please? report|note|notify|inspect|check|record|list|write|mark ~5 damage|damages|"
            "shortage|shortages|damaged|exceptions|missing ~6 before|within|prior|hours|signing",
            "inspect|check|count ~4 before signing|you|driver|accepting",
            "inspect before|prior",
            "must|should be? ~2 noted|reported|inspected|filed|inspect|note|report",
            "failure to",
            "use door|dock|bay|gate|entrance <number>",
            "no claims ~3 honored|accepted|after|without|unless|allowed",
            "note|list any",
        ),
        why="Printed conditions say nothing about this load.",
        citation=OWN,
        mark="M",
        must_flag=(
            "Consignee agrees that freight was received in good condition.",
            "Inspect before signing, note damage on receipt.",
        ),
        must_pass=("customer notes crushed corner ctn 2", "we received 2 ctns crushed"),
    ),
    WordingRule(
        id="handling-label",
        what="something else",
        effect="mask here",
        phrases=(
            "do|dont not? drop|crush|stack|tip|tilt|freeze|bend|fold|break|open|puncture|cut|tear|"
            "lay|roll|scratch|double|load|lift|stand|throw|clamp|touch|use|turn|leave|get|expose|"
            "store|let|allow|remove|top|dent|damage ~2 "
            "down|stack|flat|wet|open|seal|wrap|box|skid|side|on|stacked|knife|load|damaged?",
            "this|arrow side|end|way up",
            "fragile glass|mirror?",
            "breakable|breakables",
            "glass|mirror|crystal fragile",
            "handle w/|with care",
            "keep|store ~2 dry|upright|frozen|cool|cold|flat|level|refrigerated",
            "keep|store|protect|protected ~2 from ~3 moisture|freezing|water|wet|frost|heat|rain|"
            "cold|weather|damage|sun|freeze",
            "avoid|prevent|preventing|avoiding|against|minimize|reduce|risk|risking ~2 damage|wet|"
            "breakage|damaging|scratching|scratches|damages",
            "getting|get|gets wet",
            "could|would|will|can|might cause ~2 damage|damages|breakage",
            "top load only",
            "void|warranty ~3 if|opened|removed|broken",
            "team lift",
            "open|cut|lift here|other",
            "open this end|side|first",
            "use no hooks",
            "caution glass|heavy",
            "glass with|w/ care",
        ),
        why="A handling label states nothing about how the goods arrived.",
        citation=OWN,
        mark="M",
        must_flag=("DO NOT CRUSH", "FRAGILE GLASS THIS SIDE UP", "keep dry"),
        must_pass=("ctn 3 crushed", "glass cracked lower left"),
    ),
    WordingRule(
        id="not-sure",
        what="something else",
        effect="unsure",
        phrases=(
            "sure|tell|know|see|certain|idk|clear|say|check|wonder|unsure|unknown|determine|idea "
            "if|whether|weather",
            "unsure|uncertain of|about?",
            "not|cant|couldnt|dont|cannot sure|tell|know what|how|which",
        ),
        why="What the writer does not know is a suspicion.",
        citation=OWN,
        mark="M",
        must_flag=("not sure if mirror is broken", "cant tell if contents damaged"),
        must_pass=("ctn 3 crushed", "if damaged call"),
    ),
    WordingRule(
        id="condition",
        what="something else",
        effect="mask to stop",
        phrases=(
            "if|unless",
            "in case",
            "in the? event ~1 of|that",
            "should|shall ~2 be arrive|find|damaged|broken|missing|short",
            "call|text|notify|contact|email ~2 w/|with|about|of|for|regarding|re any",
            "report|check|inspect|look|watch|document|photo|photograph ~3 for|any ~1 damage|"
            "damages|damaged|dents|scratches|shortage|shortages|cracks|defects|issues|exceptions|"
            "leaks|moisture|missing",
            "to|must|should|please|pls|will|can report|note|claim|file any? damage|damages|"
            "shortage|shortages",
            "so|before|until|til|or|otherwise ~1 it|they|we|product|freight|you ~2 gets|get|"
            "freezes|breaks|break",
            "any <light>? damage|damages|shortage|shortages|exceptions|problems|dents|"
            "scratches|missing ~2 must|should|call|to|needs|will|please|contact|report|let",
        ),
        why="What is said of a case that may come is no statement that it has.",
        citation=OWN,
        mark="M",
        must_flag=("if damaged call 555-0100", "in case of damage notify shop"),
        must_pass=("ctn 3 damaged on corner", "not sure if box 2 damaged, corner crushed on 3"),
    ),
    WordingRule(
        id="other-goods",
        what="something else",
        effect="mask clause",
        phrases=(
            "last|previous|prior|earlier|yesterdays one|time|load|delivery|shipment|order|truck|"
            "week|weeks|loads|months|month|year|trip|stop|attempt|driver|carrier|crew",
            "from|by|off|with|on ~1 different|another|other company|carrier|store|pro|load|truck|"
            "shipper|vendor|shipment|order|stop|po|bol|delivery",
            "from earlier|before",
            "other stores|store|guys|peoples ~1 load|delivery|order|freight|shipment|stuff|boxes",
            "other pro|bol|po|bill|ticket|load|delivery|shipment|order|truck|stop|customer|trip|"
            "carrier|company|driver|drops|stops|loads|deliveries|orders|customers|shipments",
            "previous|prior <goods>|<generic>|<carton>|<handling>",
            "yesterday|yesterdays",
            "old <any>? <goods>|<generic>|one|ones|unit|appliance|appliances|furniture",
            "customers|custs|her|his|their|homeowners|neighbors|existing|own existing|own|old? "
            "wall|walls|floor|floors|stairs|carpet|yard|property|home|house|ceiling|driveway|"
            "railing|kitchen",
            "customers|custs|her|his|their|existing own|existing|old <goods>|<generic>",
            "customers|custs|homeowners broken|damaged|cracked|bent|torn|old|dented <goods>|"
            "<generic>",
            "existing <goods>|<generic>",
            "haul|hauled|hauling away|off|old",
            "haulaway|haulaways|haul|hauled",
            "took|take|removed|remove|picked|pick|picking|disposed|pulled|disconnected|"
            "uninstalled ~2 old|existing",
            "trade in",
            "replaces|replacing|replacement|replacements|replace|replaced ~4 broken|damaged|"
            "cracked|crushed|dented|bent|missing|torn|short|shattered|scratched|chipped|lost|wet|"
            "leaking|defective|refused",
            "redelivery|reship|redeliver|reshipment|redelivered",
            "another|different stop|customer|cust|consignee|store|location|order|shipment|load",
            "someone|somebody elses",
            "pre existing|exist",
            "preexisting",
            "pick|picked|pickup ~1 up|of? ~3 damaged|broken|return|returns|defective|rma",
            "next stop|customer|load",
            "competitor|competitors",
        ),
        why="It speaks of other goods than those delivered.",
        citation=OWN,
        mark="M",
        must_flag=("last load was damaged", "hauled off old washer, old one had cracked tub"),
        must_pass=("new washer dented", "ctn 2 crushed on corner"),
    ),
    WordingRule(
        id="denies-back",
        what="negated",
        effect="denies back",
        phrases=(
            "but? there|theres|i is|was|are|were|been? none|nothing|nil $",
            "but? there|it isnt|wasnt|arent|werent|aint any|none? $",
            "but? there is|was|are|were not any? $",
            "i|we|he|she|they|driver|drvr|but? found|find|saw|see|seen|noticed|spotted "
            "none|nothing|nil|zero|zip|nada $",
            f"i|we|he|she|they|driver|drvr|but? didnt|dont|couldnt|cant|cannot|havent|never {SEE} "
            "any|anything|none|a? single? one? $",
            f"i|we? did|do|could|can not {SEE} any|anything|a? single? one? $",
            "nothing|none to? report|note|see|add|mention|found|seen|noted|there|visible? $",
            "none|nothing that? i|we|he|she|they could|can? find|found|see|saw $",
            "no|zero <any> found|seen|noted|noticed|visible? $",
            "no|without a? sign|signs|trace|evidence|indication of? it|them|any|that|such? $",
            "came|come|comes|coming|turned up? empty|clean|clear|negative|nothing $",
            "all|everything|its|looks|look? <be>? good|ok|okay|fine|clear|clean|sound|intact $",
        ),
        why="What was looked for and not found is denied, whatever words say so behind it.",
        citation=OWN,
        mark="M",
        must_flag=("checked for broken glass and there isn't any", "any dents? couldn't find any"),
        must_pass=("checked for dents and found 2", "looked for 2 missing ctns, found none"),
    ),
)
