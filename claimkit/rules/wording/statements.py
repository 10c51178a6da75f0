"""Statements of good order and full count, and reservations of a later inspection.

What a statement covers (everything, the rest, one piece, the wrapping) is worked out from the
words around it. The phrase language is explained in wording_damage.
"""

from __future__ import annotations

from claimkit.rules.wording.row import WordingRule

PRACTICE = "common practice, no source"
OWN = "claimkit method: grades of a receipt"
WEAK = (
    "produce-trade transport guideline 9.7: a generic notation usually preserves no claim (read); "
    "several carriers' published instructions call a bare reservation a clear receipt"
)
HARM = "damage|damages|shortage|shortages|overage|loss|breakage"
LOOK = (
    "inspection|insp|inspect|inspections|inspecting|inspected|inspct|inspec|inspectn|count|"
    "recount|counting|check|checking|verification|verify|verifying|verif|exam|examination|"
    "examining|examine|review|unpacking|unpack|opening|open|unboxing|unbox|uncrating|uncrate|"
    "unwrapping|testing|test|inventory|look|audit|tally|ct|cnt|counted|inspected|checked|examined|"
    "verified|opened|unpacked|qc|discovery|unloading|assembly"
)

STATEMENTS: tuple[WordingRule, ...] = (
    WordingRule(
        id="good-order",
        what="good order",
        effect="good",
        phrases=(
            "good|gd|great|excellent|perfect|fine|proper|satisfactory|acceptable|mint|nice|gud|"
            "superb|pristine|clean|decent|solid|sound|top|exemplary|immaculate|flawless|spotless|"
            "faultless|impeccable|unblemished|firstclass|firstrate order|ord|cond|condition|"
            "conditions|shape|state|repair|form|nick|cndtn|condish and|&|/? condition|cond?",
            "order and|& condition",
            "all|everything|everythings|evrything|both <be>? <be>? so|very|just|nice|all? good|"
            "gd|ok|okay|fine|great|perfect|well|intact|correct|right|excellent|beautiful|clean|"
            "clear|dry|tight|sound|gud|square|nice|undamaged|whole|healthy|unbroken|unharmed",
            "every|each|all ~3 whole|intact|unbroken|unharmed|healthy",
            "arrived|came|look|looks|plants|are healthy",
            "<goods>|<generic> is|are|was|were right|correct $",
            "sound as ~1 pound|bell|dollar",
            "gtg|g2g",
            "shipshape|ship shape",
            "hunky dory",
            "good as gold|new",
            "right as rain",
            "top notch",
            "spot|bang on $",
            "no dramas|drama|hassles",
            "10 out of 10",
            "cant|couldnt|cannot complain|fault",
            "could|can not complain|fault",
            "good|ok|okay|fine to go",
            "everything|all|count|evrything|it check|checks|checked out",
            "all <number>? <carton>|<handling>|<piece>|<goods>|<generic> <be>? upright|tight|"
            "square|standing|secure|sealed|dry|clean",
            "look|looks|looked|looking|seems|appears|appear|appeared|seem|checks|checked|came|"
            "arrived|received|recd|rcvd|delivered|inspected|is|are|was|were|opened|signed|"
            "accepted|unpacked|uncrated|tested|running|counted to? <be>? so|very|real|all|pretty|"
            "out|in|just|both? good|ok|okay|fine|great|perfect|clean|excellent|nice|clear|intact|"
            "beautiful|gd|dry|sound|gud|satisfactory|acceptable|correct|mint|solid|new",
            "first class|rate condition|cond|order|ord|shape|state?",
            "10/10 condition|cond|shape?",
            "all|everything|freight|goods|shipment <be>? in order $",
            "ok|okay|okey|okie|aok",
            "good|gd|fine|perfect|excellent|great|flawless|pristine|intact|satisfactory|"
            "acceptable|mint|faultless|impeccable|exemplary|firstclass|firstrate|unscathed|"
            "unharmed|undamaged|undmgd|unbroken|uncrushed|undented|uncracked|unmarked|"
            "unblemished|immaculate|spotless|untouched|beautiful|dry|damagefree|nondamaged|gud|"
            "dandy|dandy|peachy|undamage|untorn",
            "clean|clear delivery|receipt|pod|bill|signature|bol|load|freight|sign|recv|recd|"
            "count|no|-",
            "sign|signed|signing|received|recd|marked ~1 clean|clear",
            "clear|clean",
            "no|zero|0|without|w/o|none <light>? <light>? exception|exceptions|exc|excp|excep|"
            "excptions|exceptns|excepts|issue|issues|problem|problems|prob|probs|complaint|"
            "complaints|concern|concerns|discrepancy|discrepancies|fault|faults|defect|defects|"
            "osd|os&d|o/s/d|trouble|troubles|claims|notations|variance|variances|flaws|blemishes|"
            "worries|surprises",
            "no|not|zero <light>? <light>? bad|rough|wrong|ill ~1 condition|order|handling|things",
            f"{HARM}? or|and|&? {HARM}? or|and|&? exception|exceptions|exc|"
            "issue|issues|problem|problems|discrepancies|osd|os&d|o/s/d|noted|defects|complaints|concerns|"
            "remarks|discrepancy <none>|0",
            "exception|exceptions noted|taken|listed|reported by? the? <people>? <none>",
            "nothing|nuthin|nothin|nuttin|nuffin|none|zip|nada ~1 wrong|bad|amiss|noted|noticed|"
            "suspicious|visible|abnormal|unusual|off|concerning|found|hurt|else",
            "nothing to report|note|complain|write|add",
            "neg",
            "in one piece",
            "like|brand|good|as new condition|cond $",
            "like|brand new",
            "as new $",
            "as|like ordered|described|expected|advertised",
            "inspected|insp|checked|unpacked|opened and|& accepted|passed|approved|ok|good",
            "passed inspection|insp|check|qc",
            "happy|satisfied|pleased|thrilled|delighted w/|with",
            "customer|cust|homeowner|she|he|shes|hes|very|client|they|is|am happy|satisfied|"
            "pleased|thrilled|delighted|loves",
            "thumbs up",
            "satisfied|thrilled|delighted",
            "not|without|w/o|nary|never even|so? much? as? a|one single? scratch|mark|dent|ding|"
            "nick|blemish|scuff|chip",
            "not bad",
            "tip top",
            "five by five",
            "works|working|runs|running fine|good|great|ok|perfect|perfectly|well",
            "band|bands|banding|straps|strap|wrap|seal|seals|wrapping ~1 tight|good|intact|ok|"
            "secure|present|matches|match|solid",
            "in tact",
            "safe and|& sound",
            "exactly right",
            "a1|aone condition|cond|order|ord|shape|nick",
            "all|everything|everythings <be>? a1",
            "a plus",
            "a 1|one shape|condition|cond|order",
        ),
        why="A statement of good order is evidence against a later claim, not a bar.",
        citation=(
            "Home Furniture v. Red Ball Motor Freight, 343 So.2d 319 (La. App. 1977): a clear "
            "receipt is evidence, no waiver (read)"
        ),
        mark="S",
        must_flag=(
            "rec'd OK",
            "all good",
            "in good order",
            "no exceptions",
            "NEG",
            "signed clear",
            "undamaged",
            "exceptions: none",
        ),
        must_pass=(
            "freight NOT in good order",
            "ok to leave at side door",
            "good driver",
            "keep driveway clear",
            "clear glass",
            "call before delivery",
        ),
    ),
    WordingRule(
        id="full-count",
        what="count",
        effect="full count",
        phrases=(
            "all <number>? of? the|them? <carton>|<handling>|<piece>|<generic>|<goods>? <be>? "
            "<be>? all? here|present|accounted|there|received|recd|rcvd|delivered|arrived|"
            "counted|unloaded|off|inside|dlvd for?",
            "received|recd|recvd|rcvd|got|have|counted|unloaded all <number> $",
            "received|recd|recvd|rcvd|got|have|counted|unloaded em|them all $",
            "all in $",
            "every single|last? <carton>|<handling>|<piece>|<goods> <be>? here|present|accounted|"
            "there|received|recd|rcvd|delivered|arrived|counted|unloaded|off|on for?",
            "everything|everythings|evrything|all|alls <be>? all? here|there|present|received|"
            "recd|rcvd|delivered|accounted|arrived|counted|inside for?",
            "got|have|received|recd|rcvd|counted|unloaded|delivered everything|them|it? all ~1 "
            "of? <number> <carton>|<handling>|<piece>|<goods>|<generic>?",
            "received|recd|rcvd|got|have|counted|delivered|unloaded|is|thats everything|all|"
            "every single|last? <carton>|<handling>|<piece>|<generic>|<goods>?",
            "full|complete|correct|right count|load|qty|quantity|shipment|order|delivery|set|cnt|"
            "tally|amount",
            "good count|qty|quantity|cnt|tally",
            "count|counts|cnt|qty|quantity|tally|numbers <be>? all? good|ok|okay|correct|right|"
            "fine|verified|"
            "matches|match|matched|agrees|agree|confirmed|complete|exact|full|checks|checked|"
            "tallies|tally|perfect out|with|w/? the? bol|bill|paperwork|manifest|po?",
            "matches|match|matched|agrees|per|tallies ~1 w/|with|the? ~1 bol|bill|manifest|"
            "paperwork|po|packing|order",
            "received|recd|rcvd|arrived|delivered|delivery|order|shipment|came|all|is|are|and|& "
            "complete|completely|full",
            "complete and|&|w/|with|-|no|order|shipment",
            "in full",
            "accounted for",
            "full count",
            "complete",
        ),
        why="A full count contradicts a shortage, and is evidence against a later one.",
        citation=PRACTICE,
        mark="M",
        must_flag=(
            "ALL PCS ACCOUNTED FOR",
            "full count",
            "all 6 here",
            "count ok",
            "everything is here",
            "rec'd complete",
        ),
        must_pass=(
            "not all accounted for",
            "not a full count",
            "count subject to check",
            "complete by Friday",
            "driver here at 9",
        ),
    ),
    WordingRule(
        id="reservation-further",
        what="reservation",
        effect="full reservation",
        phrases=(
            "subject|subj|sub|subjected|sbj|s/t|pending|awaiting|contingent|conditional to|on|"
            f"upon|2? ~3 further|furth|fthr|addl ~3 {LOOK}",
            "reserve|reserves|reserving|reserved|retain|right|rights ~4 further ~2 inspection|"
            "insp|inspect|check|examine|examination|count|review|verify",
            "further|furth|fthr ~2 inspection|insp|inspect|inspections|examination|exam|"
            "verification",
            "inspect|check|examine|look ~1 further",
            "stfi|sfi",
            "unable|cannot|cant|couldnt|could ~4 inspect|check|open|verify ~3 further",
        ),
        why="It reserves a later look. By itself it is weak: it states no fact about the goods.",
        citation=WEAK,
        mark="S",
        must_flag=(
            "subject to further inspection",
            "SUBJ. TO FURTHER INSP",
            "we reserve the right to further inspection of contents",
        ),
        must_pass=(
            "not subject to further inspection",
            "no further inspection needed",
            "further questions call Dave",
            "subject to city inspection Tuesday",
            "subject to terms and conditions",
        ),
    ),
    WordingRule(
        id="reservation-weak",
        what="reservation",
        effect="weak reservation",
        phrases=(
            f"subject|subj|sub|subjected|sbj|s/t to|2? ~5 {LOOK}",
            f"sub2|subj2 ~5 {LOOK}",
            f"pending|awaiting|pndg|pend ~4 {LOOK}",
            "inspection|insp|count|inspect pending|pndg",
            f"contingent|conditional|conditioned on|upon ~3 {LOOK}",
            "sti|s/t/i|stic|stinsp",
            f"reserve|reserves|reserving|reserved|retain ~4 {LOOK}",
            "reserve|reserves|reserving|retain ~1 all? right|rights ~2 to|for ~2 claim|file|"
            f"{LOOK}",
            "reserve|reserving all? rights",
            "rights reserved",
            "under|w/|with protest|reserve|reservation",
            "unable|cannot|cant|couldnt|impossible to? ~2 inspect|check|open|verify|count|examine|"
            "see|tell|inspected|checked|verified|opened|counted",
            "could|can not <be>? fully|properly|fully? inspect|check|open|verify|count|examine|"
            "see|inspected|checked|verified|opened|counted",
            "dont|didnt|doesnt|not have|got ~1 tools|tool|knife|cutter|time|light|room|chance|"
            "means|way|drill|equipment to ~1 inspect|check|open|verify|count|examine|look|"
            "see|unpack",
            "not able|possible to ~1 inspect|check|open|verify|count|examine|see",
            "no time|chance|way|opportunity|ability|room|light to? ~1 inspect|check|open|verify|"
            "count|examine|look|see",
            "wouldnt|would|will|wont|refused|refuses|couldnt not|to? let|wait|allow|permit|stay|"
            "hold|stick ~3 inspect|"
            "inspection|check|open|verify|count|look|examine|unpack|inspecting",
            "not allowed|permitted|let to? inspect|check|open|count",
            "driver|drvr|carrier refused inspection|insp|count",
            "to be inspected|checked|counted|verified|examined|opened ~3 when|after|once|later|"
            "tomorrow|tmrw|upon|at|by|before|on|prior|inside",
            "will inspect|check|count|verify|examine ~2 contents|count|inside|condition|quantity|"
            "freight|goods",
            "inspection|insp|count to follow",
            "contents|count|condition|qty|quantity <be>? ^unverified|unknown|uninspected|unchecked",
            "contents|count|condition|qty <be>? not ^verified|inspected|checked|confirmed",
            "requires|require|needs|need inspection|insp|inspecting",
            "received|accepted|signed conditionally",
        ),
        why="A reservation without 'further' is the weaker form and states no fact.",
        citation=WEAK,
        mark="S",
        must_flag=("STI", "subject to inspection", "pending insp", "subject to count"),
        must_pass=(
            "not subject to inspection",
            "inspection waived",
            "subject to tariff",
            "pending payment",
            "call pending delivery",
            "city inspection Tues",
        ),
    ),
    WordingRule(
        id="reservation-waived",
        what="negated",
        effect="no reservation",
        phrases=(
            "no longer subject|pending",
            "inspection|insp|inspect|check|count|inspections <be>? been? ^waived|declined|"
            "refused|skipped|unnecessary|complete|"
            "completed|done|passed|performed|finished|n/a|made|ok|good|cleared|waive|fine",
            "inspection|insp <be>? not ~1 ^required|reqd|needed|necessary|requested|wanted|req",
            "waived|waives|waive|waiving|declined|declines|declining|skipped|refused|passed ~2 "
            "^inspection|insp|inspect|inspections|check|look|open|unpack",
            "no|without|w/o|dont|not ~1 need ~2 inspect|inspection|insp|check",
            "no|not further? ~1 ^inspection|insp|inspect|reservation|reservations|sti ~2 needed|"
            "required|necessary|req|reqd|today|wanted",
            "without|w/o ~2 ^inspection|insp|inspecting|reservation|reservations|checking|opening",
            "waiver|waive of|on ^inspection|insp",
        ),
        why="An inspection that was waived, or a reservation that is denied, reserves nothing.",
        citation=OWN,
        mark="M",
        must_flag=("inspection waived", "no further inspection needed", "declined inspection"),
        must_pass=("subject to inspection", "STI", "pending insp"),
    ),
)
