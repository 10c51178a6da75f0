"""Praise, inspections and denials that are about something else than the goods.

"Great driver" is no good order, "city inspection" no look at the goods, "not only crushed" no
denial. The rows are found before the rules that they guard.
"""

from __future__ import annotations

from claimkit.rules.wording.row import WordingRule

OWN = "claimkit method: grades of a receipt"
PRACTICE = "common practice, no source"
STREET = "st|street|ave|avenue|rd|road|ln|lane|blvd|boulevard|hwy|highway|pkwy|terrace"
# Words of condition that are also surnames; they count only behind a given name or a title.
SURNAMES = (
    "short|fine|dent|crisp|leak|rust|nick|moody|sharp|loose|bent|hurt|tear|split|burns|burn|chips|"
    "wet|frost|bump|sound|rough|stain|hole|holes|drip|mold|bow|warp|peel|stains|smash|crush|break|"
    "light|over|poor|swift|marks|scrap|bender|rusty|chip|cutter|cut|tripp|trip|missing?"
)

ELSEWHERE: tuple[WordingRule, ...] = (
    WordingRule(
        id="good-of-other",
        what="something else",
        effect="mask here",
        phrases=(
            "ok|okay|good|fine|clear|alright|k to|for|by|per|w/|with|till|until|from ~1 leave|"
            "left|trucks|drop|use|enter|call|deliver|come|open|stack|put|place|unload|release|"
            "park|back|dock|pull|proceed|ship|bill|schedule|reschedule|bring|set|charge|pay|cut|"
            "start|move|stage|text|haul|take|tuesday|monday|wednesday|thursday|friday|saturday|"
            "sunday|am|pm|tomorrow|tmrw|today|next|<time>|now|paying|early|late|noon|morning|"
            "install|afternoon|unattended|without|remove|lift|run|delivery|hold|store|double",
            "good|great|nice|excellent|awesome|perfect|fine|super|wonderful|amazing|friendly|best "
            "driver|drivers|drvr|guy|guys|service|crew|job|day|morning|afternoon|evening|attitude|"
            "customer|cust|man|men|work|luck|dog|people|helper|team|experience|communication|time|"
            "weather|timing|weekend|one|night|neighborhood|access|question|idea|deal|customers|"
            "driving|coffee|neighbors|clearance|thru|until|dude|person|kid|bunch|folks|lady|gal",
            "driver|drvr|drivers|truck|trk|he|crew|guys|service|traffic|weather|trailer|liftgate|"
            "access|dock|appt|appointment|time|timing|paperwork|directions|parking|road|roads|"
            "stairs|elevator|payment|check|cod|dog|lunch|driveway|forklift|floor|site|slab|"
            "opening <be>? was|were|is|very|so|got|all|super|real|really|looks? good|great|nice|"
            "ok|okay|fine|clean|clear|excellent|perfect|happy|complete|courteous|awesome|right|"
            "correct|ready|dry|friendly",
            "clean across|through|thru|off|in",
            "<people> ok|okay|fine|good|cool with|w/ it|that|this|us|him",
            "make|makes|no|good sense",
            "clear|clean tape|path|way|driveway|snow|floor|floors|lane|access|height|span|view|"
            "area|dock|space|room|opening|sky|day|weather|stairs|hallway|entry|trailer|truck|bag|"
            "bags|wrap|the|a|site|up|out|off|house|mess|air",
            "keep|keeping|kept|dock|driveway|path|way|drive|access|alley|entrance|road|roads|"
            "street|coast|roadway|walkway|area|hallway|lane|leave|make|customs|skies|sky|weather|"
            "crystal|left|sidewalk|bay|lot|stairs|porch|snow|room|swept|broom|floor <be>? clear|"
            "clean|cleared",
            "cleaned|cleared up|out|area|site|room|off|house|mess|the",
            "fine print|line|tune|mesh|grit|with|sand|grade|thread|dust|by",
            "complete by|the|a|this|form|install|installation|job|paperwork|survey|w/in|after|"
            "before|line|system|delivery|payment",
            "install|installation|job|delivery|work|hookup|pickup|setup|assembly|project|"
            "paperwork|call|shift|route|survey|payment|transaction|training|haulaway|unload|"
            "framing <be>? complete|completed|done|completely|in",
            "good to|for|till|until|w/|with|at|by|thru|from|ole|year|faith|old ~1 <time>|"
            "<number>|pay|know|see|hear|work|do|deliver|unload|tuesday|monday|wednesday|thursday|"
            "friday|him|them|her",
            "dry goods|cleaning|ice|dock|storage|van|stack|rub|fit|day|cleaners|season|area|place|"
            "side|spot|space|warehouse|trailer|out|run",
            "stay|stays dry|clear|clean",
            "great room|dane|lakes|plains|clips|falls|neck|bend|american",
            "excellent customer|service",
            "count down|on|as|me|your",
            "no|without|w/o|zero issue|issues|problem|problems|trouble|delay|delays|complaints|"
            "concerns|prob|probs w/|with|finding|getting|at|on|about|re|from? the|our|my? dock|"
            "driver|access|finding|getting|backing|parking|directions|delivery|appt|stairs|"
            "liftgate|unloading|traffic|elevator|gate|road|unload|hauling|payment|entering|"
            "reaching|contacting|turnaround|paperwork|route|address|scheduling|truck|neighbors|"
            "hoa|in|driveway",
            "in order of|to|for|that",
            "all set|day|weekend|morning|afternoon|night|week|way|around|stops|done|doors|calls|"
            "fees|questions|charges|paid",
            "all other stops|calls",
            "every day|time|other|body|floor",
            "everything|all ~1 on time",
            "happy birthday|holidays|friday|new|thanksgiving|hour|monday|easter|anniversary|to",
            "nothing to sign|unload|pick|haul|do|pay|owe|remove|move",
            "mint green|julep|tea",
            "customs|credit|payment|background|security cleared|clear|ok|approved",
            "everything? else on time",
            "works for me|us|him|her",
            "tight squeeze|spot|fit|turn|alley|access|driveway|space|corner|schedule",
            "tight delivery|stairwell|hallway",
            "driver|drvr|he|she ~1 on time",
            "time works|good|ok",
            "fine by|w/|with me|us|him|her|them|customer",
            "complete address|name|phone",
            "full service|truck|trailer|name|house|price|address|time|day|pay|size|tank|payment|"
            "crew|bath",
            "accounted for ~2 time|hours",
            "correct address|name|phone|dock|door",
        ),
        why="The praise or consent is about something else than the goods.",
        citation=PRACTICE,
        mark="M",
        must_flag=("ok to leave at side door", "great driver", "keep dock clear"),
        must_pass=("rec'd ok", "looks great", "all clear", "ok to sign"),
    ),
    WordingRule(
        id="expected-damage",
        what="something else",
        effect="mask here",
        phrases=(
            "will|would|could|gonna get|be ~1 damaged|wet|crushed|broken|bent|scratched|torn|"
            "dented|cracked|smashed|stolen|lost|ruined",
            "thought|figured|worried|afraid|scared|expected|feared|told|might|may ~4 <be> ~1 "
            "damaged|wet|crushed|"
            "broken|bent|scratched|torn|dented|cracked|smashed|stolen|lost|ruined but|however",
            "mind|beware|watch|careful of? the|our? ~1 leaky|broken|wet|loose|low|bent|cracked|"
            "open <any>",
        ),
        why="What was feared, or is only warned of, has not been found on these goods.",
        citation=PRACTICE,
        mark="M",
        must_flag=("thought it would be broken", "mind the leaky hose"),
        must_pass=("it was broken", "box 2 open"),
    ),
    WordingRule(
        id="site-hit",
        what="something else",
        effect="mask to pause",
        phrases=(
            "<people> ~1 damaged|broke|hit|scraped|dented|cracked|bent|scratched|ran|smashed|"
            "tore|gouged|scuffed|dinged|clipped|crushed|chipped|knocked|busted|backed up|over|"
            "into|through? <the>? front|side|back|garage|metal|brick|dock|neighbors|customers? "
            "<site>|property|vehicle|car",
            "damaged|broke|hit|scraped|dented|cracked|bent|scratched|smashed|tore|gouged|scuffed|"
            "dinged|clipped|crushed|chipped|busted|broken|ran|backed over|into|up? <the>? front|"
            "side|back|garage|metal|brick|dock|hallway|neighbors|customers? driveway|mailbox|"
            "fence|lawn|garage|wall|walls|floor|floors|ceiling|hallway|stairs|sidewalk|elevator|"
            "doorframe|doorway|bollard|railing|car|vehicle|porch|dock|sprinkler|curb|stairwell|"
            "bush|tree|truck|trailer|liftgate|bumper|gate|baseboard|baseboards|banister|railing|"
            "drywall|doorjamb",
            "broken glass|nails|bottles|pallet|pallets|boards ~1 on|in|at <the>? <site>",
            "hit|scraped|scratched|dented|tore|cracked|damaged|broke|bent|clipped|gouged|smashed|"
            "knocked <the> <unknown>? <unknown>|<site> <site>",
            "hit|scraped|scratched|dented|tore|cracked|damaged|broke|bent|clipped our|my|their "
            "<unknown>? door? <site>|seal|jamb|doorbell|opener|bell",
        ),
        why="What was done to the place is no exception.",
        citation=PRACTICE,
        mark="M",
        must_flag=("driver hit our gate post and bent it", "backed into the fence"),
        must_pass=("forklift hit ctn 2", "driver dropped ctn 3"),
    ),
    WordingRule(
        id="address",
        what="something else",
        effect="mask",
        phrases=(
            "unit|suite|ste|apt|bldg|building|lot|bay|house|store #? <number> <number> <any> "
            f"<any>? {STREET}",
            f"<number> <unknown>|<goods>|main|park|church|high|front|first|second {STREET} "
            "unit|suite|ste|apt|bldg? #? <number>?",
            "jobsite|tenant|resident|apartment|<given> at? <any>? unit|suite|ste|apt|bldg|"
            "building|lot|house|store #? <number>",
            "suite|ste|apt|route|rte|hwy|highway|interstate|exit #? <number>",
            "rt|rte|route <number> driver|terminal|dock|truck",
            "driver|drvr|truck|trk|on|off|via|from|at|local rt|rte|route|line <number>",
            "ok <zip>",
            f"mr|mrs|ms|miss|dr|sgt|officer {SURNAMES}",
            "tulsa|norman|edmond|lawton|oklahoma|moore|enid|stillwater ok",
        ),
        why="Numbers and words of an address are no piece, count or condition.",
        citation=PRACTICE,
        mark="M",
        must_flag=("Unit 3, 40 Elm St", "Jobsite Unit 3", "Altus OK 73521"),
        must_pass=("unit 3 dented", "2 ctns at dock rec'd ok"),
    ),
    WordingRule(
        id="person",
        what="something else",
        effect="mask here",
        phrases=(
            "<people> has|with|had|hurt ~1 broken|bad|hurt|sprained|sore ~1 arm|leg|back|foot|"
            "hand|ankle|wrist|knee|shoulder|finger",
            "to|in his|her|my|their|your face",
            f"<given> {SURNAMES} $",
            f"<given> <any> {SURNAMES} $",
            "i|he|she|am|im|was|<people> <be>? the? only|last one|person|guy ~1 here|there|left|"
            "on?",
        ),
        why="It is the name of a person, or speaks of one.",
        citation=PRACTICE,
        mark="M",
        must_flag=("Grant Fine", "Wes Short", "I am the only one here"),
        must_pass=("short 1 ctn", "only one here, 2 expected"),
    ),
    WordingRule(
        id="paper",
        what="something else",
        effect="mask",
        phrases=(
            "need|needs|needed|want|wants|wanted|waiting ~2 invoice|bol|paperwork|copy|pod|"
            "receipt|slip|manifest|signature ~1 never|didnt|havent|not ~1 got|get|received|had|"
            "seen ~1 one|it|any|them?",
            "never|didnt|havent|not ~1 got|get|received|recd|had|seen|given ~2 invoice|bol|"
            "paperwork|copy|pod|receipt|slip|manifest|label|labels|number|call|email|text|notice",
            "missing|lost|forgot my|his|her pen|phone|glasses|keys|badge|radio|gloves|jacket",
            "bol|copy|form|slip|receipt|invoice|label this|that|old? one <be>? torn|wet|ripped|"
            "illegible|smudged|missing",
            "page|pages|pg|copy <number>? <be>? missing|torn|wet|ripped|illegible|lost|cut",
            "printer|scanner|tablet|copier|fax <be>? jammed|down|dead|offline|out|broken|broke",
            "snapped|snap|snapping a|some|few|<number> photo|photos|pic|pics|picture|pictures",
            "paint|stain|concrete|cement|varnish|floor|floors|grout|sealer ~4 still wet|drying|"
            "soft",
            "took|takes|take|taking|taken ~2 photo|photos|pic|pics|picture|pictures",
            "text|txt|sms|voice|vm msg|message|msgs",
            "missed|missing|miss ~3 appt|appointment|window|pickup|cutoff|deadline",
        ),
        why="Papers and appointments are no goods.",
        citation=PRACTICE,
        mark="M",
        must_flag=("need invoice, never got one", "missed 8-10 appt"),
        must_pass=("never got ctn 2", "missing 1 ctn"),
    ),
    WordingRule(
        id="words-declined",
        what="negated",
        effect="mask here",
        phrases=(
            "not|wont|refuse|refused|refusing|declined|decline|asked|asks|asking|wants|wanted|"
            "told|tried|cant|cannot|dont|didnt ~3 write|put|sign|say|mark|writing|signing|note|"
            "call|wrote ~3 good|ok|okay|clear|clean|fine|perfect order|ord|condition|cond|shape?",
            "ok|okay so|um|uh|well|listen|look|then",
            "um|uh ok|okay",
        ),
        why="Words that were asked for and not given, or only fill in, state nothing.",
        citation=OWN,
        mark="M",
        must_flag=("will not write good order", "okay so the box is wet"),
        must_pass=("good order", "signed ok"),
    ),
    WordingRule(
        id="other-inspection",
        what="something else",
        effect="mask here",
        phrases=(
            "<inspector> ~3 final? inspection|insp|inspect|inspector|inspections|inspected|"
            "inspects|approval|check|exam|review",
            "subject|subj|pending|awaiting|waiting|pass|passed to|on|for? ~5 <inspector> ~3 "
            "inspection|insp|inspect|approval|exam|check|inspector",
            "subject|subj|pending|awaiting|waiting to|on|for? ~4 inspection|insp|inspected ~1 by|"
            "w/|with|from|of|for|at ~2 <inspector>",
            "inspection|insp|inspections|inspected|inspector ~1 by|w/|with|from|of|for|at ~2 "
            "<inspector>",
            "inspection sticker|report|permit|company|fee|lane|station|booth|gate|number|card|tag",
            "pending|awaiting ~2 payment|approval|delivery|pickup|paperwork|instructions|invoice|"
            "credit|appointment|appt|response|callback|install|order|release|signature|dispatch|"
            "authorization|po|parts|installation|confirmation|reply",
            "further questions|question|notice|info|information|instructions|instruction|ado|"
            "down|up|north|south|into|back|than|away|details|delay|delays|charges|assistance|"
            "help|action|contact|communication|out|along|discount|in|orders|stops|deliveries|"
            "word|comment|comments|updates|explanation|service|discussion|appts|paperwork",
            "check no|number|enclosed|clears|clearing|payment|number|out|made|cod|amount|amt|paid|"
            "given|collected|engine|#|<number>",
            "cashiers|certified|company|business|personal|by|collect|credit|background|bank|cod|"
            "paid|pay|rain|gave|got|picked|cut|a|left check|chk",
            "open up|the|at|gate",
        ),
        why="It is another inspection, or another matter, than looking at these goods.",
        citation=OWN,
        mark="M",
        must_flag=("city inspection Tuesday", "pending customs inspection", "further questions"),
        must_pass=("subject to further inspection", "pending inspection", "subject to count"),
    ),
    WordingRule(
        id="denies-on",
        what="negated",
        effect="denies on",
        phrases=(
            "no evidence|sign|signs|indication|indications|proof|trace|reason|traces that|of|to|"
            "any",
            "unable|failed ~1 find|see|notice|spot|detect|identify|locate",
            "couldnt|didnt|cant|dont|doesnt|havent|never|cannot|not ~1 find|found|see|seen|saw|"
            "notice|noticed|spot|detect|observe|observed any|a|anything|one",
        ),
        why="What was looked for and not found is denied to the end of the clause.",
        citation=OWN,
        mark="M",
        must_flag=("no evidence that box 2 was opened", "did not find any crushed boxes"),
        must_pass=("found crushed boxes", "box 2 was opened"),
    ),
    WordingRule(
        id="no-negation",
        what="something else",
        effect="not a negation",
        phrases=(
            "not only|just|all|sure|certain|much|badly|too|very|entirely|fully|until|every|far|"
            "long|simply|merely|totally|completely|necessarily",
            "no doubt|question|wonder|idea|way|later|matter|clue|telling|surprise|guarantee",
            "without a? doubt|question",
            "nothing but|like|except",
            "no one|dock|liftgate|lift|forklift|elevator|appt|appointment|answer|call|help|lumper|"
            "ramp|phone|pen|wait|parking|stairs|access|jack|driver|inspector|helper|signature|"
            "photos|pics|bol|paperwork|contact|choice",
            "couldnt|could|cant|cannot|can not? be|get|miss|ignore",
            "not my|our|your|his",
            "didnt|did|dont|do|doesnt not? realize|know|mind|care|want|tell|report|mention|think|"
            "ask",
        ),
        why="The word denies something else than the damage that follows.",
        citation=PRACTICE,
        mark="M",
        must_flag=("not only crushed but torn", "no doubt damaged"),
        must_pass=("not crushed", "no damage"),
    ),
)
