"""Shortage, refusal, wrong goods, tripped indicators, and words too general to be a kind.

The phrase language is explained in wording_damage. The order of the rows is the order in which a
longer phrase wins over a shorter one of the same length.
"""

from __future__ import annotations

from claimkit.rules.wording.row import WordingRule

PRACTICE = "common practice, no source"
FLAWLESS = (
    "perfect|ideal|great|good|pristine|mint|satisfactory|new|flawless|faultless|"
    "immaculate|impeccable|spotless|exemplary"
)
WANTED = "asked|ordered|wanted|want|wants|requested|need|needs|needed|supposed|should|specified"
X12_LADING = "ASC X12 element 33, lading exception code: damaged, short, overage, refused (read)"

EXCEPTIONS: tuple[WordingRule, ...] = (
    WordingRule(
        id="damage-no-kind",
        what="kind of damage",
        effect="generic",
        phrases=(
            "damage|damages|damaged|damaging|dmg|dmgd|dmgs|dam|damg|dmage|damagd|damadge|dmged|"
            "damgd|damgae|dmge|dammage",
            "b/o|bad order",
            "os&d|osd|o/s/d",
        ),
        why="It says that something is damaged and not how: alone it is too vague.",
        citation=X12_LADING,
        mark="P",
        must_flag=("damaged", "3 ctns dmg", "REFUSED. DAMAGED."),
        must_pass=(
            "no damage",
            "undamaged",
            "manager signed",
            "damage: none",
            "free of damage",
            "if damaged call 555-0100",
        ),
    ),
    WordingRule(
        id="damage-vague",
        what="kind of damage",
        effect="vague",
        phrases=(
            "bad|poor|rough|terrible|horrible|awful|lousy|sad|sorry|ugly|beat|beatup|sketchy "
            "packaging|packing|pkg|pkging|condition|cond|shape|order|ord|state|handling",
            "messed|beat|banged|tore|torn|bashed|jacked|screwed|busted|chewed|roughed|beaten|"
            "mucked|effed|trashed|scarred ^up",
            "trashed|ruined|wrecked|junk|junked|destroyed|mangled|unsalvageable|unsaleable|"
            "unsellable|hammered|mutilated|compromised|mishandled|abused|damaged|hurt|impaired|"
            "scrap",
            "roughly|poorly|badly handled",
            "look|looks|looked|like|been|was|got ~3 ^banged|beat|beaten|knocked|kicked|tossed|"
            "thrown|roughed|bounced|battered around|about|up",
            "banged|beat|knocked|kicked|tossed|thrown|roughed|bounced ^around|about",
            "been|went|gone|put|came|run ~2 thru|through ~1 ^wringer|war|ringer|hell|mill|battle|"
            "grinder",
            "seen ~1 better ^days",
            f"less|far|short than|from|of ~1 ^{FLAWLESS}",
            f"nowhere|not near|close to? ^{FLAWLESS}",
            "not ~2 ^perfect|great|pretty|happy|impressed|pleased|satisfied|thrilled|ideal|fine|"
            "acceptable|best",
            "dont|didnt|not|hate|doesnt ~2 like|love|hate|liking ~2 ^look|looks|looking|way|shape|"
            "condition|appearance",
            "condition|cond|shape|packaging|state <be>? very|pretty|only? ^poor|questionable|"
            "suspect|rough|fair|iffy|dubious|marginal|terrible|horrible|awful|bad",
            "^questionable|dubious|suspect|iffy|subpar condition|cond|shape|order|packaging|state",
            "worse ~1 for ^wear",
            "sub ^par|standard",
            "<generic>|<carton>|<handling>|<goods>|packaging|pkg|packing <be>? <be>? very|pretty|"
            "real|really|kinda|so|quite|all|a? bit|little? ^bad|rough|beat|ugly|sketchy|sad|"
            "terrible|questionable|suspect|iffy|awful|poor|suspicious|funny|weird|odd|abused|"
            "shot|toast|horrible|marginal|nasty|janky",
            "look|looks|looked|looking like? very|pretty|real|really|kinda|so|a? bit|little? "
            "^bad|rough|beat|ugly|sketchy|sad|terrible|questionable|suspect|iffy|awful|poor|"
            "suspicious|off|funny|weird|odd|wrong|hell|crap|junk|trash|abused|horrible|nasty",
            "came|arrived|showed|recd|received in|up? all|very|pretty|real|kinda? ^bad|rough|"
            "beat|ugly|terrible|awful|horrible|nasty|poorly|badly",
            "beat|beaten|banged|shot|knocked to ^hell|crap|death|pieces|pulp",
            "^not what ~3 call|consider",
            "something|anything ^wrong|bad|amiss",
            "a ^mess|wreck|disaster|shambles",
            "^total loss",
            "in ~1 a ~1 state|bad ^way|state",
            "dreadful|appalling|disgraceful|crappy|crummy|shoddy|atrocious|pathetic",
            "knackered|munted|buggered|banjaxed|borked|fubar|fubared|wonky|dodgy|janky|kaput|"
            "shonky",
            "not|isnt|aint|doesnt|dont ~1 look|looking|look? so|too|very|real|that ^hot|flash|"
            "clever|crash",
            "not ~1 ^right|normal|acceptable|usable|sellable",
            "bad|awful|terrible|horrible",
            "issue|issues|problem|problems ~1 with|w/|on|in|found|noted",
            "unacceptable|substandard",
            "packaging|boxes|box|cartons|ctn|ctns|skid|wrap|plt|crate <be>? ~1 ^rough",
            "took|taken a ^hit|beating",
            "has|have|had|with|w/|some|few ^exceptions|exception|problems|issues|defects",
            "exceptions|exception ^noted|taken|listed|attached|below|see",
        ),
        why="It says that something is wrong and names no kind of damage.",
        citation=PRACTICE,
        mark="M",
        must_flag=("box looks bad", "skid in rough shape", "messed up", "something wrong"),
        must_pass=("not bad", "looks good", "bad weather", "nothing wrong", "rough terrain"),
    ),
    WordingRule(
        id="damage-suspected",
        what="kind of damage",
        effect="suspicion",
        phrases=(
            "<perhaps> ~2 concealed|hidden|internal|inside|interior|latent|con ^damage|dmg|"
            "damages|damaged|shortage|dam|issues|loss|breakage",
            "concealed|hidden|internal|latent ^damage|dmg|damages|dam ~2 <perhaps>",
            "concealed|hidden|internal|latent ^damage|dmg|damages|dam|dmgd|loss|breakage",
            "<perhaps> <light>? ^damage|dmg|damaged|damages|dmgd|dam",
        ),
        why="A suspicion alone preserves nothing; with a reservation it says what to look for.",
        citation="ASC X12 element 853, code HD hidden damage (suspected or actual) (read)",
        mark="P",
        must_flag=("possible concealed damage", "poss concealed dmg", "prob hidden dmg"),
        must_pass=("no concealed damage", "possible delivery Tuesday", "no hidden dmg found"),
    ),
    WordingRule(
        id="short",
        what="shortage",
        effect="shortage",
        phrases=(
            "shorted|shrt|shtg|shtgs|shtge|shrtg|shrtge|shortg|shortage|shortages|shorts|shortshipped|shortship",
            "short $",
            "short <unknown> $",
            "short <only> <number>",
            "short <number>|<carton>|<handling>|<piece>|<goods>|<generic>|<accessory>|the|a|an|"
            "all|of|by|from|at|per|in|ship|shipped|and|&|or|nor|see|is|w/|w|on|upon|this|both|"
            "pls|please|call|none|nil|driver|drvr|customer|cust|noted|again|will|to|for|but|"
            "damaged|damage|dmg|no|not|rest|bal",
            "<number> <any>? <any>? ^short",
            "<be>|<carton>|<handling>|<piece>|<generic> ^short",
            "missing|misng|mising|missin|msg|missed|mia|shy",
            "<carton>|<handling>|<piece>|<goods>|<generic> <be>? ~1 ^lost|gone|absent|stolen|"
            "omitted|unaccounted|misplaced|lacking",
            "^lost|stolen|omitted|misplaced <number>|<carton>|<handling>|<piece>|<goods>|<generic>",
            "unaccounted ~1 for",
            "not ~1 all? ^received|recd|rcvd|delivered|there|here|present|accounted|included|"
            "found|shipped|sent|loaded|arrive|show|come|dlvd|deld ~1 in|on|w/|with|for|up",
            "not ~1 all|everything ^here|there|present|accounted|received|recd|in|arrived|inside "
            "for?",
            "not ~1 ^received|recd|rcvd|delivered|included|dlvd|shipped|located|loaded",
            "<carton>|<handling>|<piece>|<goods> ~1 no ^show|shows",
            "half|1/2 of? the? ^order|shipment|load|delivery received|recd|rcvd|delivered|came|"
            "arrived|here",
            "<not> ^on|in|with ~1 truck|trk|trailer|trlr|box|skid|pallet|plt|load|ctn|carton|"
            "shipment|crate|package",
            "everything|evrything|all ~2 here|there|came|arrived|received|recd|delivered|present|"
            "accounted except|but|minus|besides ^<any>",
            "received|recd|rcvd|rec|recvd|got|have|delivered|counted everything|all ~1 except|"
            "but|minus ^<any>|<number>",
            "only <the>? <any>? <any> ^showed|came|arrived|received|delivered|recd|rcvd",
            "<carton>|<handling>|<piece>|<goods>|<number> <be>? not ^here|there|present|found|in|"
            "arrived|loaded|included|inside",
            "on bol|bill|manifest|paperwork|order|list <be>? not ^here|received|recd|there|found|"
            "loaded|present|delivered",
            "owed|owing|outstanding|backordered",
            "count|cnt|qty|quantity|tally|numbers <be>? ^off|wrong|short|incorrect",
            "count|cnt|qty|quantity|tally|numbers not|doesnt|dont ^right|correct|match|agree",
            "did|does|do not ^come|arrive|receive|get|show|have",
            "didnt|doesnt|never|dont|wasnt|werent ^loaded|shipped|sent|delivered|made|come|"
            "arrive|receive|received|get|got|show|showed|include|recd|arrived|came|have",
            "^incomplete <generic>|<goods>|set|kit|count|ship",
            "<be>|<generic>|<goods>|order|shipment ^incomplete",
            "only <number> ~2 ^received|recd|rcvd|delivered|here|there|arrived|came|counted|"
            "shipped|on|of|out|in|off|present|found|got",
            "only|just ^received|recd|rcvd|got|get|counted|delivered|have|see|came|found|had|w/|"
            "with|see <number>",
            "only <number> ^<carton>|<handling>|<piece>",
            "less|minus|light|down|lacking|need|needs|owe|owes|owed ^<number> more? <carton>|"
            "<handling>|<piece>|<goods>",
            "^minus|less <number>",
            "<number> ^less|fewer|short than|of",
            "<number> <carton>|<handling>|<piece> ^light|less|under|down|shy|lacking|gone|lost|"
            "absent|owed",
            "came|arrived|delivered|received|recd|shipped ^without|w/o|no|minus ~2 <accessory>",
            "no ^<accessory> ~1 in|with|w/|inside|included|sent|came|shipped|found|received|recd",
            "<accessory> <be>? not ~1 ^in|included|there|with|inside|found",
            "empty ^box|boxes|ctn|ctns|carton|cartons|crate|package|pkg",
            "<carton>|<handling>|<piece> <be>? ^empty",
            "partial ^shipment|delivery|order|ship|load",
            "backordered|backorder",
        ),
        why="A shortage counts once the words say how many or which piece.",
        citation=X12_LADING,
        mark="P",
        must_flag=(
            "short 1",
            "1 ctn missing",
            "box 3 not on truck",
            "only got 3 of 4",
            "came w/o hardware",
            "pallet 2 not received",
        ),
        must_pass=(
            "no shortage",
            "nothing missing",
            "short on time",
            "shortly after 3",
            "missing paperwork",
            "driver short w/ us",
            "shirt",
            "none missing",
        ),
    ),
    WordingRule(
        id="over",
        what="shortage",
        effect="overage",
        phrases=(
            "over|overage|overages|extra|surplus ^<number> more? <carton>|<handling>|<piece>",
            "<number> <carton>|<handling>|<piece>|<goods>? ^over|extra|overage|surplus|too many",
            "overage|overages|overshipped",
            "extra ^ctn|ctns|box|boxes|carton|cartons|skid|pallet|pc|pcs|piece|pieces|crate",
        ),
        why="More than the bill lists is a discrepancy too; say how many and which.",
        citation=X12_LADING,
        mark="P",
        must_flag=("over 1 ctn", "1 extra box", "overage 2 pcs"),
        must_pass=("come over Tuesday", "left over there", "no overage", "extra help on dock"),
    ),
    WordingRule(
        id="wrong-goods",
        what="kind of damage",
        effect="kind",
        phrases=(
            "wrong|incorrect ~1 ^color|colour|size|model|item|items|product|finish|style|unit|"
            "part|parts|goods|order|vanity|door|hand|swing|sku|freight|shipment|handed|piece|one|"
            "side|goods|material|qty|quantity|<goods>",
            "<goods>|<generic>|<carton>|<handling>|<piece>|color|colour|size|model|finish|hand|"
            "swing|sku <be>? ^wrong|incorrect|mismatched",
            "not ^ordered",
            "<carton>|<handling>|<piece>|<goods>|<number> <be>? not ^ours",
            "not what ~2 ^ordered|order|expected",
            "mislabeled|mismarked|mislabelled|misshipped|misship|mismatched|mismatch",
            "mis ^shipped|labeled|ship|marked",
            "sent|shipped|received|got|recd|delivered|brought ~5 ^instead",
            "does|do not ^match order|bol|po|sample",
            "doesnt|dont ^match order|bol|po|sample|spec",
            "belongs|meant|tagged|labeled ^for|to someone|another|other|different",
            "someone ^elses",
        ),
        why="Wrong goods are an exception of their own kind; say which piece and what came.",
        citation="ASC X12 element 33, lading exception code W wrong product (read)",
        mark="P",
        must_flag=("wrong color vanity", "received white instead of gray", "door 2 wrong swing"),
        must_pass=("wrong turn, driver late", "wrong address on bol", "nothing wrong"),
    ),
    WordingRule(
        id="refused",
        what="refusal",
        effect="refusal",
        phrases=(
            "refused|refuse|refusing|refusal|refuses|rejected|reject|rejecting|rfsd|refusd",
            "not ^accepting|accepted|taking",
            "did|would|will|do not ^accept|take",
            "didnt|wouldnt|wont|dont ^accept|take",
            "sent|sending|send ^back",
            "sent|sending|send|turned|took|taking|going|went ~3 ^back w/|with|to|on ~1 truck|"
            "driver|carrier|shipper|terminal|vendor|store",
            "returned|returning|rtn ~1 ^<number> ~3 driver|carrier|shipper|truck|terminal|sender",
            "returned|returning|rtn ^w/|with|to driver|carrier|shipper|terminal|sender",
        ),
        why="A refusal preserves its reason only where it says what was refused and why.",
        citation=X12_LADING,
        mark="P",
        must_flag=("REFUSED 1 crate, glass broken", "rejected 2 ctns wet"),
        must_pass=(
            "driver refused to wait",
            "not refused",
            "customer refused to sign",
            "cust refused haul away",
        ),
    ),
    WordingRule(
        id="refusal-reason",
        what="refusal",
        effect="reason",
        phrases=(
            "not ordered",
            "never|didnt|not ordered|order",
            "duplicate|dup|double order|shipment|delivery?",
            "duplicate|dup",
            "cancelled|canceled|cxl|cxld",
            "changed ~1 mind",
            "too ^late|big|small|large|wide|tall|long",
            "wont|doesnt|didnt|not ^fit",
            "no ^po|room|space|order",
            "wrong ~2 <generic>|<goods>|color|size",
            "not|no longer ^needed|wanted",
            "late|delayed",
            "overcharged|unpaid",
            f"{WANTED} ~7 this|these|those|they|theyre|it|its|came|got|sent|is|are|was|received|"
            "recd",
            f"this|these|those|they|theyre|it|its|came|got|sent|received|recd ~7 {WANTED}",
            "instead of",
            "not <describing>|gray|beige|tan|oak|walnut|maple|cherry|gas|round|"
            "brass|nickel|chrome|bronze|stainless|birch|pine",
            "need|needs|needed|wanted|ordered left|right|<describing>",
            "not ours|mine",
            "not our|my order|shipment|freight|goods|item|items|load",
            "belongs|meant to|for|with",
        ),
        why="A refusal says why.",
        citation=PRACTICE,
        mark="M",
        must_flag=("refused sofa, customer changed mind", "refused 2 ctns duplicate order"),
        must_pass=("refused 2 ctns",),
    ),
    WordingRule(
        id="indicator-tripped",
        what="indicator",
        effect="tripped",
        phrases=(
            "tripped|trip|trips|activated|red|triggered|trigger|popped|blown|fired|broken|"
            "alarmed|exceeded|active|pink|black|blue|missing|positive|shows|tipped|busted",
            "gone|went|set|goes ^off|red|black|pink|blue",
            "turned|turn|is|was ^red|black|pink|blue|on",
            "^changed ~1 color|colour",
        ),
        why="A tripped indicator is a reason to open and look; on a named piece it is specific.",
        citation="claimkit method: grades of a receipt",
        mark="M",
        must_flag=("tip n tell on crate B tripped", "shockwatch red on skid 2"),
        must_pass=(
            "shockwatch on crate 1 not tripped",
            "tilt watch clear",
            "red sofa delivered",
            "tiltwatch white not red",
        ),
    ),
    WordingRule(
        id="indicator-seen",
        what="indicator",
        effect="indicator",
        phrases=(
            "tilt|tip|shock|impact|drop|gforce|tilting|tipping|vibration watch|watches|indicator|"
            "indicators|sensor|sensors|sticker|stickers|label|labels|monitor|monitors|dot|dots|"
            "meter|detector|detectors|tag|tags|tell|tells|ind|watchs",
            "tip|tilt over|n|and|&|no? tell|tells|tel|indicator|indicators|sensor|label|sticker",
            "tiltwatch|tiltwatches|shockwatch|shockwatches|tiptell|tipntell|shockdot|"
            "tiltindicator|droptell|tipntells|shockwatchs|tiltwatchs",
            "g force|shock watch|indicator|sensor",
            "impact|shock|tilt indicators|indicator",
        ),
        why="An indicator that did not trip says nothing about the goods.",
        citation="claimkit method: grades of a receipt",
        mark="M",
        must_flag=("shockwatch on crate 1 not tripped", "tilt watch clear"),
        must_pass=("driver watch the step", "tilt the mirror back"),
    ),
)
