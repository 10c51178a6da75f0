"""Kinds of damage as receivers write them, one row a kind.

A phrase is a row of words; `a|b` are alternatives, `<class>` any word of that class, `?` after an
item makes it optional, `^` marks the word that the finding is about, `~3` lets up to three words
stand between. The words alone decide nothing: negation and what they speak of come later.
"""

from __future__ import annotations

from claimkit.rules.wording.row import WordingRule

X12 = "ASC X12 element 853, damage reason codes (list of the codes read; other forms of the word: \
common practice, no source)"
PRACTICE = "common practice, no source"
THROUGH = "thru|through|into the|its|a? it|them|<carton>|<handling>|<piece>|<places>|<goods>"
WHY = "A kind of damage counts once the words also say which piece, how many, or where on it."


def _kind(
    row: str, phrases: str, flag: str, let_pass: str, citation: str = PRACTICE
) -> WordingRule:
    return WordingRule(
        id=f"kind-{row}",
        what="kind of damage",
        effect="kind",
        phrases=tuple(part.strip() for part in phrases.split(";")),
        why=WHY,
        citation=citation,
        mark="P" if citation is X12 else "M",
        must_flag=tuple(part.strip() for part in flag.split(";")),
        must_pass=tuple(part.strip() for part in let_pass.split(";")),
    )


DAMAGE: tuple[WordingRule, ...] = (
    _kind(
        "crushed",
        "crush|crushed|crshd|crsh|crshed|crushing|crushes|krushed; smash|smashed|smashes|smushed|"
        "smooshed; squash|squashed|squished|squeezed; mashed|mash; flattened; caved|cave in?; "
        "stove|stoved in; pushed|pushing|kicked|knocked|punched in|out; crunched|crumpled|"
        "crumple; crinkled; buckled|buckle|buckling; creased|crease|creases; collapsed|collapse|"
        "collapsing|collasped; bashed; pinched; compressed; bulging|bulged|bulge|bulges",
        "ctn 3 crushed on the corner; top of carton caved in; box mashed; lower skid collapsed",
        "not crushed; crushed velvet sofa delivered; brushed nickel pulls; no crushed corners",
        X12,
    ),
    _kind(
        "dented",
        "dent|dents|dented|dntd|denting|dinted; ding|dings|dinged; dimple|dimples|dimpled; "
        "indent|indents|indented|indentation|indentations; bump|bumped; banged ~1 up|corner|edge",
        "fridge dented lower left; 2 dings on the door",
        "no dents; rent a truck; no dings no scratches; hinged at left",
    ),
    _kind(
        "torn",
        "torn|tore ^up?; wrap|shrinkwrap|stretchwrap <be>? ^torn|cut|ripped|open|broken; tear|"
        "tears|tearing; ^blown|blew out|apart; rip|rips|ripped|ripping; shredded|shred; slit|"
        "slits; slashed|slash|sliced|slice; frayed|fraying; snagged|unraveled|unravelled|"
        "unstitched; ruptured|rupture; busted|bust|bursted|burst ^open?; split|splits|splitting "
        "open?",
        "cushion torn at seam; headboard fabric ripped; 3 bags burst",
        "not torn; tear down old deck; year end; tipped the driver; no rips or tears",
    ),
    _kind(
        "punctured",
        "puncture|punctured|punctures|punchured|punct|pnctrd; pierced|pierce; fork|forks|forklift|"
        "tine|tines|blade|blades|jack ~2 ^thru|through|into; ^hole|holes ~1 in|thru|through|on|"
        "punched|poked; hole|holes|holed; forked|forklifted|skewered|speared; fork|forks|forklift "
        "^hole|holes|mark|marks|damage|tine|strike|puncture; poked|poke; stabbed|impaled; "
        "perforated|gash|gashes|gashed; nail|nails|screw|screws|staple|staples|splinter|"
        f"splinters ~2 ^{THROUGH}; stuck|sticking|stick|poking|jammed|"
        f"protruding ^{THROUGH}; has|have|had|with|w/ a|an <any> <any>? ^{THROUGH}; "
        "punch thru|through; gouged thru; blade|tine ^mark|marks",
        "ctn 2 forklift hole thru side; drum punctured; hole in box 4",
        "no holes; whole shipment here; no punctures; post hole digger pickup",
        X12,
    ),
    _kind(
        "wet",
        "wet|wetted|wetness|dampened; soaked|soak|soaking|soggy|sopping|drenched|saturated; "
        "water|wtr|moisture|rain|liquid|flood ^damage|damaged|dmg|dmgd|soaked|logged|intrusion|"
        "marks|mark|spots|exposed|exposure; waterlogged|waterdamaged; damp|moist|condensation; "
        "rained on; moisture; water ^got|came|leaked|seeped in|inside; ^water|liquid in|inside|on|"
        "under the? it|them|<places>|<carton>|<handling>|<piece>|<goods>|contents; moldy|mold|"
        "mould|mouldy|mildew|mildewed|moldly; sweating",
        "ctn 4 wet; bottom 2 rows soaked; water damage to lower panel; box 2 damp",
        "not wet; wet paint in lobby; let driver in; keep from getting wet",
        X12,
    ),
    _kind(
        "stained",
        "water? ^stain|stains|stained|staining; discolored|discoloration|discoloured|faded|"
        "fading|yellowed; tarnished|tarnish; grease|oil|ink|rust|dirt|mud|tire|shoe|boot|glue "
        "^mark|marks|spot|spots|stain|stains|stained|smear|smeared|residue|covered|soaked; "
        "greasy|oily; has|have|got|is|are|w/|with ~1 ^oil|grease|ink|mud|dirt|glue|soot ~1 on|"
        "all; covered in|with ^oil|grease|ink|mud|dirt|glue|soot|dust|paint; dirty|soiled|filthy|"
        "muddy|grimy|grungy; smudge|smudged|smudges|smeared|blotchy|blotches|contaminated|"
        "contamination|contaminates; smells|smell|odor|stinks|reeks|smelly; sticky; water ^rings|"
        "ring",
        "box 2 water stained on the bottom; sofa soiled on back; oil stain on ctn 4",
        "no stains; stained glass panel delivered ok; train late; dirty dock",
        X12,
    ),
    _kind(
        "cracked",
        "crack|cracks|cracked|cracking|craked|crkd|crckd; fracture|fractured|fractures|hairline|"
        "hairlines; spider|spidered|spiderweb|spiderwebbed|starred; ^split|splits ~1 in|along|"
        "down|at; crazed|crazing; fissure; splintered|splinter|splintering|splinters",
        "vanity top cracked thru sink cutout; hairline crack lower edge of tray",
        "not cracked; no cracks; tracked by phone; packed by shipper; stacked on dock",
    ),
    _kind(
        "broken",
        "broken|broke|brkn|brkg|brkd|brok|brocken|broked|brokn; in|to ^bits|smithereens|"
        "flinders; disintegrated|crumbled|pulverized|pulverised; break|breaks|breakage; snapped|"
        "snap; snapped|broken|broke|sheared|ripped|torn|came|fell|popped|cracked|knocked ^off|"
        "loose; sheared; shattered|shatter|shatters; busted|bust|busts ^up?; in <number>|a|many? "
        "pieces|half|two; fell|come|came|coming ^apart; demolished|destroyed|totaled|totalled|"
        "wrecked|obliterated; shards|shard; detached|unattached|disconnected; dislodged; falling "
        "apart; glass broke",
        "lid broken on crate 2; leg snapped off rear rt; glass panel shattered",
        "not broken; unbroken; seal intact not broken; on break at noon; truck broke down",
    ),
    _kind(
        "bent",
        "bent|bend|bends|bending|bented; kinked|kink|kinks|kinking; deformed|deform|misshapen|"
        "distorted|mangled|mangle; crooked|cockeyed; tweaked|jammed; folded over",
        "condenser fins bent; frame bent at lower left; pipe kinked",
        "not bent; went to dock 3; best driver; do not bend; spent 2 hrs",
    ),
    _kind(
        "bowed",
        "bowed|bow|bowing; warped|warp|warping|warpage; cupped|cupping; swollen|swelled|swelling|"
        "swell|swole|puffed; sagging|sagged|sag; buckling; curled|curling|rippled|wavy",
        "wall panel bowed 1/2 in; door 2 warped; bottom swollen on ctn 3",
        "not warped; towed; wrapped tight; no bow; mowed lawn",
    ),
    _kind(
        "racked",
        "racked; twisted|twist; out of square|plumb|round|alignment; not ^square|straight|"
        "aligned; misaligned|skewed",
        "cabinet 4 racked; frame of door 3 twisted; enclosure out of square",
        "not racked; tracked; stacked",
    ),
    _kind(
        "gouged",
        "gouge|gouges|gouged|gouging|gauged|gowged; chunk|chunks ~2 out|missing|gone|off; chunk|"
        "chunked; notch|notched|notches; divot|divots; hunk out",
        "3 in gouge on left side panel; gouged top of dresser",
        "no gouges; pressure gauge; not gouged",
    ),
    _kind(
        "scratched",
        "scratch|scratches|scratched|scrtchd|scratchs|scrached|scratchy; scrape|scrapes|scraped|"
        "scraping; abraded|abrasion|abrasions; rub|rubs|rubbed|rubbing ^mark|marks|spot|spots|"
        "through|thru|off?; chafed|chafe|chafing; marred|mar|mars; etched",
        "oven door scratched; 2 scrapes on side of unit 3",
        "no scratches; scratch that; not scratched; stretch wrap ok",
    ),
    _kind(
        "chipped",
        "chip|chips|chipped|chipping|chiped; nick|nicks|nicked; spalled|spalling; ^flaked|flaking|"
        "peeling|peeled|peel; paint|finish|coating ^off|missing|gone|lifting|bubbled; "
        "blistered|bubbled|bubbles|bubbling",
        "tile chipped on 2 corners; nick in edge of countertop",
        "no chips; zero chips or cracks; shipped Monday; chips and soda for the crew",
    ),
    _kind(
        "scuffed",
        "scuff|scuffs|scuffed|scuffing|scuf; skid ^mark|marks; blemish|blemishes|blemished|"
        "defect|defects; worn ~1 spot|spots|edge|corner|thru|through; smudges; marked ^up; wear "
        "^mark|marks; ^marks|mark ~2 on|across|along",
        "scuffed along top edge of panel 2; scuff on dresser side",
        "no scuffs; stuff delivered; not scuffed; no marks on it",
    ),
    _kind(
        "leaking",
        "leak|leaks|leaking|lkg|lkng|leaked|leaky|leakage|leakin; drip|drips|dripping|dripped; "
        "seeping|seep|seeped|seeps|oozing|oozed|oozes|ooze; weeping|weeps|weep|dribbling|"
        "trickling; spill|spilled|spilling|spilt|spillage; lost ^fluid|oil|coolant|refrigerant",
        "drum 2 leaking; 3 pails leaking at lid; oil leaked on skid 1",
        "no leaks; roof leak at the store; not leaking; weak; teak table",
    ),
    _kind(
        "delaminated",
        "delaminated|delam|delaminating|delamination; unglued|unglue; separated|separating|"
        "separation|seperated; laminate|veneer|skin|edge|banding ^lifting|lifted|peeling; "
        "seal ^failed|blown; fogged",
        "countertop delaminated at the front edge; veneer lifting on drawer 2",
        "not delaminated; laminate flooring ok",
    ),
    _kind(
        "retaped",
        "retaped|retape; re taped|taped|sealed|wrapped|banded|boxed|packed|packaged|"
        "strapped|stacked|palletized|closed; rewrapped|rebanded|reboxed|repacked|repackaged|"
        "resealed|recoopered|restacked|repalletized|reclosed|rewrap|repack; tampered|tampering|"
        "pilfered|pilferage|pilfer|vandalized; seal ^missing|cut|gone|changed|tampered; "
        "taped ^over; different ^tape; taped ^up by carrier|driver|terminal",
        "3 ctns retaped; skid 2 re-wrapped by carrier; box 5 repacked; crate 1 tampered with",
        "still taped shut; wrap intact; not retaped",
    ),
    _kind(
        "open",
        "<carton>|<handling>|<piece>|<generic>|flaps|flap|lid|top|bottom|side|end|corner|seam|"
        "seams|doors|tape <number>? <be>? <be>? ^open; came|arrived|found|received|recd|"
        "delivered|been|already|was|were|torn|ripped|busted|popped|split|burst|cut|flap|half|"
        "partially|partly ^open|opened; an|one|<number>|has|have|had|with|w/|found|got|recd|"
        "received|some|several|all|were|was|and|&|in ^open <carton>|<handling>|flap|flaps|seam|"
        "top|lid; been|came|arrived|previously|already ^opened|resealed; opened and|& ^retaped|"
        "resealed; exposed|uncovered|unsealed; lid|lids|cap|caps|cover|bung|top|seam <be>? "
        "^popped; flaps|flap|lid|cover|cap ^loose|off|up|missing|undone",
        "box 3 open on top; 2 ctns arrived open; crate 1 lid off",
        "open til 5; dock open; unopened; opened and checked all ok; not opened; gate open",
        X12,
    ),
    _kind(
        "shifted",
        "shifted|shifting on|off|in?; load|freight|skid|pallet|plt ^shift; moved around|off|on "
        "skid|pallet|plt; off ~1 ^skid|skids|pallet|pallets|plt|plts|center|base; slid|sliding|"
        "slipped off|on; overhanging|overhang; unstable|wobbly; loose on|in|inside|off|from; "
        "came|come|worked|shook|rattling|hanging|broke|bouncing ^loose; straps|bands|banding|"
        "wrap|hinge|handle|leg|base|door|lid <be>? ^loose",
        "load shifted on skid 2; mach shifted off ctr 6 in; contents loose in box 4",
        "shift change; 2nd shift; not shifted; night shift guy signed",
        X12,
    ),
    _kind(
        "leaning",
        "leaning|leans|leaned over?; tipped|toppled|topple|flipped|tipping over?; fell|fallen|"
        "falling over|off|down|out|on|onto; <generic>|<carton>|<handling>|<piece> ^fell; "
        "^dropped ~2 off|from the? liftgate|forks|fork|forklift|truck|trailer|skid|jack|ramp|"
        "lift|pallet; was|were|got|been ^dropped; <people> ^dropped it|this|them|<carton>|"
        "<handling>|<number>; ^dropped by|on driver|drvr|carrier|crew|its|corner|side|edge|end|"
        "corners; dropped|knocked over; upside down; laid|lying|laying|layed|shipped|delivered|"
        "arrived ^on ~2 side|back|end|face; on its|their ^side|back|face; double|over ^stacked",
        "skid 3 leaning; crate B tipped over; unit 2 dropped off liftgate",
        "leave leaning on garage wall; do not tip; driver was tipped; dropped trailer in yard; "
        "dropped off at side door",
    ),
    _kind(
        "frozen",
        "frozen|froze|frzn|frostbitten; wilted|wilting|wilt; bruised|bruising; mushy; row|rows|"
        "layer|layers|tier|<carton>|<handling>|<piece>|product|milk|all <be>? ^warm|hot; thawed|"
        "thaw|thawing|defrosted|melted|melting|melt; warm|hot ~2 temp|pulp|product|on arrival; "
        "temp ~2 ^high|warm|abuse|over|above|out; temperature ^abuse|exposure|exposed; spoiled|"
        "spoilage|spoilt|rotten|rotted|rot|decayed|expired|sour|rancid; freeze ^damage|damaged; "
        "freezer burn",
        "2 plts paint frozen; 6 cs melted; top layer thawed",
        "do not freeze; frozen foods delivered ok; keep from freezing; not frozen",
        X12,
    ),
    _kind(
        "burnt",
        "burnt|burned|burn|burns|burning; scorched|scorch; charred|singed; fire|smoke|heat "
        "^damage|damaged; overheated",
        "ctn 2 burnt on the side; panel scorched lower edge",
        "burnt orange sofa ok; no burns; turned over to shop",
    ),
    _kind(
        "rusted",
        "rusted|rust|rusting|rusty; corroded|corrosion|corroding; oxidized|oxidation|oxidised; "
        "pitted|pitting",
        "rebar bundle 2 rusted; rust on lower flange of valve",
        "no rust; trust me; not rusted; Rust-Oleum 4 cs ok",
    ),
    _kind(
        "infested",
        "infested|infestation; rodent|mouse|mice|rat|bird|insect|animal ^droppings|dropping|holes|"
        "damage|chewed|nest|feces; mice|rats|mouse in|on|inside; bugs|roaches|roach|termites|"
        "termite|weevils|maggots|larvae|"
        "bedbugs|beetles; chewed|gnawed; live ^bugs|insects",
        "mouse droppings on skid 2; 3 bags chewed; bugs in ctn 4",
        "no bugs; rat trap display ok; not infested",
    ),
    _kind(
        "strap missing",
        "strap|straps|band|bands|banding|bandings|strapping <be>? ^missing|gone|broken|broke|"
        "snapped|off|cut|loose|busted; ^missing|broken|busted|snapped strap|straps|band|bands|"
        "banding|strapping; not ^banded|strapped|secured|wrapped|braced|blocked|palletized; "
        "unbanded|unstrapped|unsecured; wrap|shrinkwrap|stretchwrap <be>? ^missing|gone|off|"
        "loose; no ^shrinkwrap|banding|straps|bands|wrap on",
        "strap missing on skid 2; bands broken on plt 3; wrap off skid 1",
        "bands tight; straps ok; no straps missing; driver strapped it down",
    ),
    _kind(
        "rattling",
        "rattles|rattle|rattling|rattled; tinkling|tinkles|jingling|clinking; contents ^audible; "
        "heard|hear|sounds|sounded|sound like? ~3 ^broken|glass|loose|rattle|shattered; broken "
        "^glass inside; rolling ^around; something ^loose|rolling|broken|rattling|sliding; loose "
        "^parts|pieces|glass|hardware inside|rattling|rolling",
        "box 2 rattles; ctn 4 contents audible; glass tinkling in crate 1",
        "no rattles; does not rattle; battle",
    ),
    _kind(
        "not working",
        "not ^working|functioning|operational|functional; wont|doesnt|didnt|dont|not|cant|cannot "
        "^work|start|close|latch|power|turn|fit|run|light|lock|seat|cool|heat|charge|thread|"
        "screw|align|assemble|open|sit|stay|spin|shut|slide|drain|hold; stripped|stripd; inop|"
        "inoperable|inoperative|nonworking|doa|dead|defective|faulty|malfunctioning|unusable",
        "range wont start; drawer 3 doesnt close; unit 2 inoperable",
        "all working; works fine; liftgate wont work",
    ),
    _kind(
        "cut",
        "cut|cuts in|thru|through|across|along|into|open|by; cuts on; box|boxes|ctn|ctns|carton|"
        "cartons|bag|bags|fabric|leather|cable|cord|hose|wire|cushion|seat|upholstery|roll|rolls|"
        "canvas|leather|tarp <be>? ^cut; slashes; knife|razor|blade ^cut|cuts|mark|marks|slit",
        "bag 4 cut open; knife cut in sofa cushion left arm; fabric cut 6 in",
        "cut the check; cut to size; not cut; no cuts; short cut to dock",
    ),
    _kind(
        "loss of part",
        "leg|legs|arm|corner|handle|handles|knob|knobs|trim|hinge|foot|lid|piece|end|edge|top|"
        "back|base|shelf|door|panel|drawer|cap|nozzle|valve|wheel|caster|slat|rail|bracket|cover|"
        "glass <be>? ^off|detached|gone|loose; ^loosened|loosend",
        "leg off sofa; knob off drawer 2",
        "drop off at door; legs on; top of stairs",
    ),
)
