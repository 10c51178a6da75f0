"""Words that look like damage, praise or inspection and mean something else on a dock.

"Short on time" is no shortage, "driver left" no place on a box, "crushed velvet" a fabric. The
rows are found before the rules that they guard.
"""

from __future__ import annotations

from claimkit.rules.wording.row import WordingRule

PRACTICE = "common practice, no source"

HOMONYMS: tuple[WordingRule, ...] = (
    WordingRule(
        id="goods-name",
        what="which piece",
        effect="names goods",
        phrases=(
            "stained|frosted|leaded|tempered|crackle glass",
            "gate|ball|check|globe|butterfly valve|valves|vlv|vlvs",
            "ice|snow melt|melter",
            "cracked ice|walnut|pepper|wheat|corn|grain|leather|glaze|peppercorn",
            "crushed velvet|stone|ice|red|gravel|rock|granite|tomato|tomatoes|pepper|linen|shell|"
            "asphalt|pineapple|garlic|limestone|marble|concrete|chili|oyster|fruit|lava",
            "short block|blocks|sleeve|sleeves|rib|ribs|bread|pants|grain|throw|shaft|iron|irons",
            "chipped beef|ice|stone",
            "split peas|pea|log|logs|oak|firewood|king|foundation|boxspring|bearing|bearings|"
            "leather|ring|shank|loom|top",
            "smoked|stained|etched|burnt|torched|charred glass|pine|oak|maple|ash|wood|cedar|"
            "concrete|ham|salmon|turkey|fish|meat",
            "wet wipes|mop|suit|suits|sanding",
            "rough sawn|cut lumber|cedar|oak|pine|boards|beam|beams|in?",
            "bump stop|stops|cap|caps|key|keys",
            "shift knob|knobs|lever|cable|kit",
            "tilt truck|table|wall|windows|window|cart|bed",
            "scratch and|n|& dent",
            "scratch awl|post|feed|off",
            "drip coffee|irrigation|emitter|emitters|tape|hose|system",
            "cut flowers|roses|pile|glass",
            "loose leaf|fill|lay",
            "broken tulip|bow",
            "notched trowel|trowels",
            "burnt orange|umber|oak|sienna",
            "rust colored|oleum|color|orange|proof|resistant",
            "distressed|antiqued|weathered|hammered|brushed finish|wood|copper|leather|oak|metal|"
            "bronze|nickel",
            "frozen food|foods|goods|pizza|fish|shrimp|meat|vegetables|peas|seafood|chicken|veg|"
            "bread|fries|dinners|yogurt|dough|berries|fruit|dessert|treats|drinks|turkey|beef|"
            "waffles",
            "mini|ductless split|splits",
            "minisplit|minisplits",
            "split system|ac|rail|face|unit|units",
            "chips and|& salsa|soda|dip|candy",
            "potato|corn|tortilla|wood|pita chip|chips",
            "chip board|reader|card",
            "bow|bay window|windows|front",
            "gate valve|valves",
            "dead bolt|bolts",
            "<carton>|<piece>|<handling> of? chips",
            "dent|scratch|crack|leak|rust|stain|damage|chip|rip|tear|windshield|mold|burn|scuff "
            "repair|removal|remover|restoration|kit|filler|resistant|prevention|guard|guards|"
            "protector|proof|cover|treatment|inhibitor|converter|stopper|detector|sensor|buffer",
            "soil|roots|healthy|watered moist|damp",
            "loose on the? floor",
            "all loose in one|<number> gaylord|tote|trailer|truck",
            "moisture resistant|barrier|content|meter|proof|sensor",
            "crushed ice maker|dispenser|machine",
            "hole saw|digger|cutter|plug",
            "holeless|holed faucet",
            "one|single|three|four|faucet|sink|pre hole|drilled ~1 sink|vanity|faucet|top",
            "leaf spring|springs",
            "drop leaf|ceiling|cloth|in",
            "tear drop|off",
            "fire place|pit|wood|rated|door|doors|extinguisher",
            "dry wall|erase|mix|cell",
            "clear glass|coat|acrylic|finish|vinyl|poly|lens|epoxy|pine|cedar|maple|anodized|"
            "sealer|panel|plastic|shower",
            "sound bar|board|proof|system|proofing",
            "fine china|art|dining",
            "perfect fit|seal",
            "cut stone|stock|glass|tile",
            "drip edge|edging|pan|tray|line",
            "folding chairs|chair|table|tables|door|doors",
            "end table|tables|cap|grain|panel|panels",
            "hot|warm tub|tubs|water",
            "water ~1 heater|heaters|cooler|htr|tank|filter|softener|bottle|closet|pump|line",
            "crown molding|moulding|mold",
            "mold base|remover|stone",
            "spill kit|pallet|pan|containment",
            "rub rail|strip",
            "lean to",
            "break room|front table|chairs|furniture",
            "scratch resistant|coat|pad",
            "rat|mouse|rodent trap|traps|bait",
            "twist lock|ties",
            "snap ring|lock|on",
            "cover plate|plates",
            "open shelf|shelves|shelving|frame|back|cell stock|unit|bookcase|foam?",
            "wet bar|saw|vac|wall",
            "knock down|out",
        ),
        why="The words name the goods.",
        citation=PRACTICE,
        mark="M",
        must_flag=("crushed velvet sofa", "3 rolls burnt orange carpet", "mini split"),
        must_pass=("crushed box 2", "burnt on the side"),
    ),
    WordingRule(
        id="site-name",
        what="something else",
        effect="mask here",
        phrases=(
            "dock door|doors|bay|number|plate|plates|leveler|leveller|bumper|light|seal",
            "ladder|headache rack|racks",
            "mud flap|flaps",
            "speed bump|bumps",
            "shutoff|shut valve|off? valve?",
            "gas|water|supply|drain|sewer|fuel|hydraulic|air line|lines|main|meter|shutoff",
            "pallet jack|jacks",
            "hand truck|cart|trucks",
            "ramp plate",
            "jack wheel|wheels|handle|fork|forks",
            "tail|brake|marker|head|dock|yard light|lights|lift",
            "truck|trailer door|doors|seat|bed|floor|roof|light|lights|mirror|tire|tires|bumper",
            "side mirror|mirrors",
            "<number>? lights on bldg|building|house",
            "breaker|outlet|outlets",
            "parking|contractor|back|front|gravel|side|job|our|the lot|drive|walk|walkway|path",
            "our|my|his|drivers dolly|jack|forklift|scanner|phone|pen|truck|radio|tablet|printer",
        ),
        why="What happens to the place, the truck or a tool is no exception.",
        citation=PRACTICE,
        mark="M",
        must_flag=("dock plate broken", "pallet jack broke", "shutoff valve leaking"),
        must_pass=("broken lid on crate 2", "door 3 dented", "gas range dented"),
    ),
    WordingRule(
        id="not-goods",
        what="something else",
        effect="mask here",
        phrases=(
            "short on|of ~2 time|help|staff|hands|people|labor|guys|room|space|drivers|crew|cash|"
            "breath|men|workers|hours|pens|patience|daylight|manpower|fuel|gas|sleep|drivers|"
            "temper",
            "short notice|staffed|handed|ride|walk|delay|wait|driveway|truck|trailer|term|break|"
            "drive|cut|crew|help|time|staff|stop|tempered|answer|haul|run|visit|stay|trip|day|"
            "week|"
            "version|person|fuse|guy|window|stairs|hallway|hop|distance|changed|w/|with|bed|dock",
            "short a guy|man|helper|driver|person",
            "cut|running|ran|run short",
            "short <number>? <people>",
            "<number> <people> short",
            "broke|broken|break|breaks|breaking down|even|into",
            "on|at|lunch|coffee|smoke|after|during|his|her|their|took|take|a break",
            "break room|down|bulk|time|area|lunch",
            "breakdown|breakroom|breaktime",
            "wet paint|concrete|floor|floors|cement|bar|room|walls|area|season|weather|location|"
            "grass|ground|dock|road|roads|outside|out|day|driveway|snow|porch",
            "crack of dawn",
            "scratch that|ticket|off",
            "tear|tore|tearing|torn down|out|sheet",
            "split|splitting <number> <handling>|<carton>",
            "short delivery|receiving window|time|hours",
            "split|splitting level|shipment|delivery|load|case|order|bill|run|bol|up|between",
            "leaf|mid|night|day|first|second|third|1st|2nd|3rd|graveyard|late|swing|stick|my|his|"
            "next|am|pm|work|our|evening shift|shifts|shifting",
            "shift change|supervisor|lead|mgr|manager|starts|ends|over|ended|started|leader|was",
            "vent|duct|conduit|post|man|pot|bolt|drain|key|faucet|sink|pilot|mounting|screw|"
            "button|core|pre|nail drilled? hole|holes",
            "open at|til|till|until|from|daily|m|mon|monday|weekdays|house|space|plan|sign|area|"
            "flame|top|bed|deck|account|item|order|web|air|late|early|for|24|now|tues|24/7|<time>",
            "gate|store|shop|office|dock|garage|bay|yard|warehouse|we|they|business|restaurant|"
            "salon|school|lobby|receiving|facility|building|trailer|truck <be>? <be>? left? open|"
            "opened|opens",
            "left|leave|leaves ~2 door|gate|garage|dock open",
            "will|not|please|pls|must|lets open",
            "leave|left|put|place|placed|set|stood|stack|stacked ~3 leaning|leaned|lean",
            "lean|leaning|leaned against|it|up",
            "drop|dropped|drops trailer|off|ship|zone|lot|yard|box|at|location|in front|curb|dead|"
            "down|hook|shipped|container|van|at",
            "dropped ~2 trailer|container|chassis|van",
            "threshold|curbside|trailer|yard|live|pallet|a|please|pls|to drop",
            "tipped ~1 driver|him|crew|guys|well|them|the|her|nice|<number>|big|good|$",
            "<people> <be>? tipped",
            "dead end|stop|load|weight|battery|phone|line|zone|lift",
            "cut check|off|sheet|sheets|list|to|a|short|down|grass|the|bank|time|rate|through|"
            "lumber|sizes|one|him|out",
            "custom|pre|precision|laser|die|rough|cross|clean|saw|made|factory|water|direct|"
            "clear|pre cut",
            "still frozen|cold|solid",
            "ice|gel|cold packs|pack|bricks ~1 frozen|melted|thawed|cold|solid",
            "too short",
            "ramp|liftgate|jack|forklift|dolly missing",
            "burn barrel|permit|pile",
            "appt|appointment|delivery|pickup|call|calls|stop missed|missing",
            "short <number>? strap|straps|chain|chains|tarp|tarps|jack|dolly|dollies|ratchet|"
            "ratchets|blanket|blankets|pads|bars|load",
            "missing from ~1 route|schedule|system|sheet",
            "sticker|tag|permit|license|registration|card expired",
            "broke a sweat",
            "broke|break|breaking for lunch|dinner|day|night",
            "broken english",
            "cut|cutting|cuts thru|through|across the? alley|lot|yard|woods|field|parking|street|"
            "traffic|town|backyard|grass|lawn|building",
            "took|take|taking|removed|remove|removing|pulled|popped|unscrewed ~4 off|apart|out|"
            "down|legs|doors",
            "door|doors off hinges|hinge",
            "water|gas main break|breaks|leak|broke",
            "bent|broken|short|split|crooked|cracked|rusty|torn|bow|bowed|dent|bend ~1 creek|st|"
            "street|ave|rd|dr|ln|lane|blvd|hwy|cir|pkwy|trail|bow|arrow|tree|rock|oak|pine|"
            "river|lake|springs|ridge|hollow",
            "driver|drvr|shipper|carrier count <number>",
            "took|take|taking|hauled|removed|remove|disposed ~1 broken|old|empty|damaged pallet|"
            "pallets|skid|skids|box|boxes|packaging|packing|debris|trash|cardboard",
            "storm|hail|fire|smoke|flood|wind|water|hurricane|tornado damage|damaged job|jobs|"
            "claim|project|restoration|house|home|repair|repairs|customer|site|work",
            "lost|missing|short|over|less|late|behind|delayed|gained|waited <number> <measures>",
            "lost time|driver|signal|power|his|her|my|and|way|gps|key|keys|phone|badge|paperwork|"
            "pen|pod|bol|trying|looking|an|hour",
            "got|get|getting|gets|driver|drvr|he|she|truck lost",
            "miss|missed|missing|lost|no|wrong|without|w/o|short <number>? <light>? <light>? "
            "delivery? packing? <papers>",
            "missed|missing|miss <light>? delivery|appt|stop|turn|call|window|lunch|exit|you|"
            "appointment|pickup|cutoff|truck|street|road|house",
            "<papers> <be>? missing|lost|illegible|incorrect|expired",
            "paperwork|invoice|invoices|slip|receipt|bol|label|labels|pod <be>? torn|wet|damaged|"
            "smudged|ripped",
            "packing|pick slip|list|ticket <be>? missing|lost|wrong|torn|wet",
            "wrong <site>|turn|address|dock|number|time|day|date|city|zip|town|street|house|"
            "entrance|"
            "exit|building|suite|floor|location|gate|phone|pro|po|truck|trailer|driver|customer|"
            "apt|appt|appointment|bay|road|contact|name|direction|directions|unit|way|terminal",
            "went|sent|came|got|delivered|taken|dispatched to? wrong <site>|dock|address|city|"
            "store|building|house|terminal|door|stop|town|location|street|side",
            "wrong w/|with ~1 driver|truck|address|gps|directions|appt|him|her|liftgate",
            "over|extra <number> <measures>",
            "<number> <measures> over|extra|late|short|early|of",
            "extra time|stop|help|charge|man|person|labor|stairs|mile|miles|hour|guy|guys|driver|"
            "care|fee|hands|careful|pair|stops|flight",
            "warm|hot|cold day|out|outside|weather|coffee|in|welcome|today|one|dog|morning",
            "dirty dock|job|hands|truck|trailer|jobsite|site|work|road|laundry|dishes",
            "smells|smell like|great|good|nice",
            "bug|bugs spray|screen|net|zapper|out",
            "sweat|sweating ~2 out|today|here|driver|guys|bullets|us|crew",
            "roof leak|leaks|leaking|leaked",
            "leak test|tested|detector|proof|checked",
            "damage|damages claims|claim|waiver|protection|plan|deposit|insurance|control",
            "loss|damage prevention|department|dept|team|office",
            "call|called|calls|coming|come|came|be|go|went|get|got|driver|right|text|ring|head "
            "back",
            "back order|dock|door|porch|yard|lot|room|entrance|gate|in|up|at|tomorrow|soon|from|"
            "alley|patio|deck",
            "front desk|porch|door|office|gate|yard|entrance|steps|lawn|walk|stoop|dock|patio",
            "front|back|side|rear of? house|bldg|building|store|home|garage|property|warehouse",
            "side|rear door|yard|lot|entrance|street|gate|porch|entry|walk|dock",
            "inside delivery|del|garage|house|warehouse|pickup|building|gate|store|shop|fee|"
            "charge|placement|foyer|dlvry|service|dlvy|office|gym",
            "<be>|all|everything|put|set|left inside|outside",
            "left at|w/o|without|w/|before|early|it|them|on|in|by|here|message|vm|voicemail|dock|"
            "terminal|outside|copy|copies|note|notice|card|unattended|for|us|everything|after|and",
            "driver|drvr|he|she|drv|was|were|truck|carrier|crew|be|been|customer|cust|got|has|"
            "tech left",
            "right away|now|time|after|here|at|outside|turn|next|there|out|guy|address|place|"
            "person",
            "left|right side of? house|garage|bldg|building|driveway|street|road",
            "bottom|top of? the? stairs|floor|driveway|hill|line|dollar|notch|steps|ramp",
            "end of|user|loader|customer|dump|zone|result ~1 driveway|day|street|road|hall|shift|"
            "hallway|cul|aisle|week|month?",
            "<number> feet|foot|ft",
            "dead|light|night|week end",
            "floor|door|wall|glass guy|guys|man|crew|contractor|installer",
            "on|by foot",
            "light duty|load|rain|snow|weight|traffic|day",
            "down|up time|stairs|town|hill",
            "fire|smoke|heat|burglar alarm|dept|department|hose|lane|station|watch|exit",
            "hurt ~2 back|driver|foot|hand|knee|shoulder|leg|arm",
            "fork truck|lifts|driver",
            "forklift|fork|forks driver|operator|needed|used|available|unload|reqd|required|avail|"
            "guy|only|down|provided|here|on|onsite|battery|broke|broken|wont|inop|leaking",
            "rip off|tide|current",
            "bump|bumps|bumped dock|the|out|into|up|heads",
            "squeeze|squeezed by|in|through|it|truck|thru|past",
            "compressed air|gas",
            "damage|damages|damaged|scratch|scratches|dent|dents|gouge|scuff|scuffs|hole|ding|"
            "crack ~1 to|on|in <the>? front|side|back|garage|hallway|stairwell|brick? <site>|"
            "property|vehicle|car",
            "by|per|sgd|signed|rcvd|recd|driver|mr|for|ask|see|call|from|w/|with|thx|thanks|attn|"
            "att|initials|name chip|nick|rusty|mark|rip|crystal|dusty",
            "nick|rusty|mark|dusty|rip <took>|says|said|okayed|at|from|sgd|here|checked|"
            "helped|receiving|shipping|took|signed|will|has|was|is",
            "chip <took>|says|said|okayed|sgd|checked|helped|took|signed|receiving|from",
            "out of order|service|town|office|way|gas|fuel|hours|state|stock|pens|paper|control|"
            "time|route|area|breath",
            "order picker|desk",
            "not my problem|job|fault|issue",
            "refused|refuse|refuses|refusing|refusal|declined|rejected sign|help|wait|assembly|"
            "haul|haulaway|install|signature|liftgate|service|tip|copy|pay|payment|installation|"
            "hookup|assistance|inside|stairs|offer|setup|old|pickup",
            "refused|refuse|refuses|refusing|declined to sign|help|wait|assemble|haul|pay|move|"
            "carry|bring|take|unload|use|back|come|leave|go|deliver|install|provide|give|show|"
            "unpack|lift|drive ~1 old|it|them|us|me|anything|inside|up|upstairs|stairs|down|out|"
            "in|off?",
            "bad weather|road|roads|traffic|day|time|mood|attitude|knee|location|spot|phone|"
            "number|address|driver|back|weather|reception|signal|neighborhood|access|dock|luck|"
            "news|habit|check",
            "rough neighborhood|terrain|road|roads|day|opening|in|cut|sawn|plumbing|count|driveway",
            "appears|looks to be? <people>",
        ),
        why="The words have another meaning here and say nothing about the goods.",
        citation=PRACTICE,
        mark="M",
        must_flag=("short on time", "on break", "call back at 3", "driver left w/o copy"),
        must_pass=("short 1 ctn", "broken lid on crate 2", "left corner crushed"),
    ),
)
