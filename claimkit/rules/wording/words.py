"""Classes of words that people write on delivery receipts: counts, places, packing, negations.

Each class is one string of words, spelled without apostrophes and in lower case. A class holds no
judgement; the rules name classes in their phrases. Common practice, no source, unless a line says
otherwise.
"""

from __future__ import annotations

NUMBERS: dict[str, int] = {
    "zero": 0, "one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7,
    "eight": 8, "nine": 9, "ten": 10, "eleven": 11, "twelve": 12, "thirteen": 13, "fourteen": 14,
    "fifteen": 15, "sixteen": 16, "seventeen": 17, "eighteen": 18, "nineteen": 19, "twenty": 20,
    "thirty": 30, "forty": 40, "fifty": 50, "sixty": 60, "seventy": 70, "eighty": 80, "ninety": 90,
    "single": 1, "both": 2, "couple": 2, "dozen": 12,
}  # fmt: skip

PLAIN_WORDS: dict[str, str] = {
    # Negation is matched exactly or after mending of long words, never by likeness of phrases.
    "not": (
        "not isnt wasnt arent werent didnt doesnt dont hasnt havent hadnt aint wont never cant "
        "cannot couldnt wouldnt nor neither dnt didn doesn dosnt isn wasn aren weren dident"
    ),
    "no": (
        "no none nothing nuthin nothin nuttin nuffin without w/o w/out wout zero nil nobody nope "
        "non"
    ),
    "none": "none nil nada zip nope n/a na neg negative zero nothing nuthin nothin nuttin nuffin",
    "joins": "or nor and & + n and/or",
    "either": "or nor n and/or",
    "exceptive": (
        "except excepting exept xcept excpt exc xcpt but besides minus less save aside apart "
        "however"
    ),
    # Words that may stand between a negation and what it negates.
    "light": (
        "any a an the of at all sign signs evidence indication trace visible visual visable vis "
        "apparent obvious external exterior outward further more new major minor significant "
        "noticeable concealed hidden actual known physical real single sort type form bit ever "
        "been be being is was were are to see seen saw seeing notice noticed find found finding "
        "spot spotted detect observe observed appear appears appeared look looks looked seem "
        "seems have has had show shows showing shown get got gets anything anywhere "
        "arrive arrived come came received recd receive shipping transit handling internal from "
        "even reported so yet noted as real looking cosmetic structural evident sight whatsoever"
    ),
    "be": "is was are were be been being came come arrived arrive recd received has have had got "
    "looks look appears appear found delivered shows showing with w/ shipped seems s gone",
    "the": "the a an this that these those his her its their our my each every another",
    "all": "all everything every entire whole each both total complete full everythings allpcs",
    "perhaps": (
        "possible possibly poss posible probable probably prob maybe might suspect suspected "
        "potential potentially likely may could perhaps suspicion"
    ),
    "future": "will would shall going gonna gets wont should must cannot",
    "rest": "itself still rest others other otherwise remaining remainder balance else bal remain",
    "outside": (
        "visible visual visable vis apparent apparently obvious outside exterior external "
        "externally outwardly outward wrap wrapping wrapped shrinkwrap shrink packaging package "
        "pkging packing seal seals band bands banding strap straps strapping bulkhead tape "
        "surface visibly cardboard shrinkwrapped stretch stretchwrap poly outer"
    ),
    "inside": (
        "contents content inside inner product products merchandise merch interior inards insides"
    ),
    "handling": (
        "skid skids skd skds pallet pallets plt plts pllt pllts plat plats crate crates crt crts "
        "bundle bundles bdl bdls bndl bndls hu hus tote totes gaylord gaylords rack racks "
        "cradle platform platforms unit units unt unts"
    ),
    "carton": (
        "ctn ctns carton cartons box boxes bx bxs boxs case cases cs cse package packages pkg "
        "pkgs pkge parcel parcels crtn crtns ct cts cartn cartns"
    ),
    "piece": (
        "pc pcs piece pieces pce pces item items ea bag bags sack sacks sks bottle bottles can "
        "cans pail pails bucket buckets drum drums barrel barrels roll rolls reel reels tube "
        "tubes sheet sheets slab slabs board boards length lengths stick sticks bale bales kit "
        "kits set sets pack packs pk pks jug jugs keg kegs spool spools coil coils part parts "
        "component components section sections flats hardware"
    ),
    # What names no piece: "box crushed" does not say which.
    "generic": (
        "em freight frt goods product products material materials matl merchandise merch mdse "
        "shipment shipments shpt order orders load loads cargo stuff contents content packaging "
        "packing wrap wrapping wrapper shrinkwrap stretch cardboard delivery consignment it they "
        "them this that these everything thing things outside exterior outer wood pkging shrink "
        "banding bands band straps strap tape goods skid skids pallet pallets plt plts crate "
        "crates crt crts box boxes bx bxs boxs carton cartons ctn ctns package packages pkg pkgs "
        "pkge item items piece pieces pc pcs unit units part parts case cases cs ct cts bundle "
        "bundles bdl bdls container packages container some several multiple many few various "
        "packs pack most lots numerous"
    ),
    "places": (
        "corner corners crnr crnrs cor side sides edge edges top tops bottom bottoms btm botm bot "
        "front rear back backside end ends face faces middle center centre ctr upper lower upr "
        "lwr lid underside underneath base leg legs foot feet arm arms armrest drawer drawers "
        "frame frames flap flaps seam seams handle handles latch hinge hinges runner runners deck "
        "stringer skirt rim lip flange fin fins cover casing housing skin cushion cushions fabric "
        "tread row rows layer layers tier tiers nose tail trim molding moulding shell jamb sill "
        "sash stile rail rails post posts bezel knob knobs hood panel panels door doors glass "
        "pane panes lite lites lens backing shelf shelves spine bowl rail backrest seat headrest "
        "headboard footboard tabletop tub surround threshold ledge spigot valve fitting nozzle "
        "neck cap plug cord gasket vent grille grill finish veneer laminate surface paint coating "
        "lh rh left right lt rt lft rgt thru through midspan crown joint joints weld welds "
        "bracket brackets mount header footer gable ridge apex cutout faceplate wheel wheels "
        "caster casters axle tire fender bumper mast boom motor fan sidewall sidewalls blade "
        "blades compressor terminal wiring"
    ),
    "leftright": "left right lt rt lft rgt",
    "beside_leftright": (
        "side sides corner corners crnr edge front rear back end upper lower upr lwr top bottom "
        "btm hand door panel arm leg rear far on at in to near face half hinge rail drawer stile "
        "jamb runner handle wheel cor bot"
    ),
    # Sizes tell an extent, and a described box is a named one ("tall box crushed").
    "describing": (
        "big small large tall long narrow flat wide heavy white black brown blue green "
        "grey gray red largest smallest biggest longest heaviest first second third fourth fifth "
        "sixth 1st 2nd 3rd 4th 5th bottom top middle nose tail front rear corner single"
    ),
    # Things of the place, the truck and the work: what happens to them is no exception.
    "site": (
        "dock docks leveler leveller liftgate driveway mailbox bell doorbell buzzer callbox "
        "keypad fence gate gates lawn yard sprinkler sprinklers landscaping grass bushes bush "
        "tree trees sidewalk curbside garage carport porch stairs stair staircase stairwell steps "
        "hallway hall elevator elev lift ceiling floor floors wall walls doorway doorframe "
        "doorbell entryway entrance ramp truck trk trailer trlr tractor rig van forklift hilo "
        "jack jacks scanner handheld phone pen radio camera clipboard windshield headlight "
        "bollard road street parking roof hydrant neighbors neighbor internet intercom dolly "
        "dollies handtruck tarp tarps weather rain snow asphalt gravel ground mud pothole sewer "
        "concrete pavement blacktop sod house home building bldg liftgates bushes hedge truckbed "
        "bay bays curb path basement shack guardhouse restroom walkway walkways pathway footpath "
        "alley stoop foyer curbing apartment condo lobby vestibule corridor banister handrail "
        "porchlight"
    ),
    "people": (
        "driver drivers drvr drvrs drv customer customers cust custs homeowner homeowners owner "
        "consignee receiver rcvr shipper helper helpers crew guy guys man men wife husband mgr "
        "manager super supervisor foreman tenant neighbor security clerk warehouse office shop "
        "store dispatch dispatcher boss contractor gc mr mrs ms sir lady he she we i us me him "
        "her you your our his installer installers tech technician plumber electrician people "
        "person kid kids son daughter mom dad staff anybody somebody someone who lumper lumpers "
        "carrier carriers team loader loaders"
    ),
    # Papers and arrangements: missing ones are no shortage of goods.
    "papers": (
        "bol bl b/l paperwork papers pod invoice invoices slip slips signature signatures doc "
        "docs document documents manifest copy copies receipt receipts form forms appointment "
        "appt phone number numbers address code po list stop work lunch pay cash check payment "
        "chance call meeting bus info information turn exit school game day days shift time sign "
        "signs teeth page pages cod money fee license permit id badge placard placards"
    ),
    # First names; they are no goods, and tell a surname from a state ("Grant Fine").
    "given": (
        "aaron adam al alan albert alex amy andrew angela ann anna anne art ashley barb barbara "
        "ben beth betty bill billy bob bobby brad brandon brenda brett brian bruce bryan carl "
        "carlos carol casey cathy chad charles charlie cheryl chris cindy cody connie craig curt "
        "cynthia dale dan dana daniel danny darrell dave david dawn dean deb debbie dennis derek "
        "diane don donald donna doug duane dustin dylan earl ed eddie edward elena emily eric "
        "erica erin ernie ethan eva evan felix frank fred gail gary gene george gina glenn gloria "
        "greg hank harold harry heather hector helen henry holly howard ian irene isaac ivan jack "
        "jackie jacob jake james jamie jan jane janet jason jay jean jeff jen jenny jeremy jerry "
        "jesse jessica jill jim jimmy joan joe joel john johnny jon jorge jose josh joyce juan "
        "judy julia julie justin karen kate kathy katie keith kelly ken kenny kevin kim kirk "
        "kristen kurt kyle larry laura lauren lee leo leon leslie linda lisa liz lori louis lucas "
        "luis luke lynn marcus margaret maria marie mario martin marty marvin mary matt megan mel "
        "melissa miguel mike mitch molly monica nancy nate nathan neil nicole noah norma oscar "
        "pam pat patricia paul paula peggy pete peter phil rachel ralph randy raul ray rebecca "
        "ricardo rich richard rick ricky rita rob robert robin rodney roger ron ronnie rosa ross "
        "roy russ ruth ryan sal sally sam samantha sandra sandy sara sarah scott sean seth shane "
        "shannon sharon shawn sheila sherry sid stan stephanie steve steven stuart sue susan "
        "tammy tara ted teresa terry tim tina todd tom tommy toni tony tracy travis trevor troy "
        "tyler valerie vicki victor vince virgil wade walt walter wanda warren wayne wendy wes "
        "willie zach grant wesley"
    ),
    "measures": (
        "min mins minute minutes hr hrs hour hours day days week weeks month months lb lbs pound "
        "pounds kg kgs ton tons ft foot in inch inches mm cm yd yds sqft sf gal gallon gallons "
        "pm am oclock mi mile miles guys men people man fl floor floors story flights "
        "flight st nd rd th degrees deg f psi volt volts v amp amps btu hp watt watts oz qt times "
        "drivers trips stops trucks person helpers helper stars percent % pt pts steps stairs "
        "bay bays dock docks years yrs gauge ply pages page teeth trucks trips sets copies"
    ),
    # Numbers behind these words are not counts.
    "vehicle": (
        "dock truck trk trailer trlr elevator lift liftgate driveway forklift hilo van house "
        "building bldg drivers neighbors store hallway stairwell customers handheld scanner "
        "tablet clipboard intercom keypad forks bay lobby shack vestibule corridor gate "
        "guardhouse restroom"
    ),
    "codes": (
        "pro po seal seals trailer trlr truck trk tractor bol invoice inv ref reference bill "
        "gate dock bay stop route apt ste suite room rm bldg building lane aisle row store "
        "ticket tkt rma ra acct account phone ph ext fax cell tel id license badge station "
        "terminal zone hwy route load so wo job lot floor fl page pg conf "
        "confirmation claim temp zip year yr lic dl emp employee time exit crew"
    ),
    "took": (
        "recd rcvd received receive recieved recv recvd rcv rec rcd rec'd got get gets accepted "
        "counted count counts cnt delivered deld dlvd dlvrd del unloaded offloaded unld signed "
        "arrived came tally tallied tallying have here present accounted"
    ),
    "expected": (
        "expected expecting ordered bol bill manifest paperwork should called calls supposed "
        "invoice s/b sb theirs billed invoiced charged says shows showing listed lists packing "
        "freight order instead pod"
    ),
    "only": "only just merely",
    "accessory": (
        "hardware screws screw bolts bolt legs leg feet keys key remote cord manual instructions "
        "shelf shelves brackets bracket handle handles knobs knob casters wheels cable cables "
        "adapter parts bag fasteners hinges drain pins clips dowels pegs mounting template gasket "
        "hoses hose lid cushion cushions pillows slats rails glass charger battery trim kit pack"
    ),
    "inspector": (
        "city county town village state federal fire marshal building bldg permit code health dot "
        "tsa customs osha usda fda vehicle trailer safety home roof elevator annual framing "
        "foundation government municipal ahj ag border hazmat pretrip brake termite pest "
        "electrical plumbing occupancy sprinkler utility"
    ),
    "abbreviation": (
        "ctn ctns plt plts pc pcs bx bxs cond insp dmg dmgd subj rec recd rcvd no approx abt qty "
        "crt crts bdl bdls pkg pkgs cs ea ord gd amt lt rt upr lwr btm ctr del drvr cust cor exc "
        "poss prob conc sub sbj w rsvd furth fthr inspec pend pndg reqd contd recvd rcv ea sig st "
        "ave rd ind dr mr mrs ms jr sr vs misc matl mdse frt skd skds plat"
    ),
    "stopwords": (
        "a an the and or but if of to in on at by for with from as is was are were be been it its "
        "this that they them there here so do did does not no yes ok okay per via up out off over "
        "then than too very also just only still already again now later when while after before "
        "because due since until about approx abt around roughly some any all both each every "
        "more most other another same such what which who how why where has have had having got "
        "get will would can could should may might must shall see saw seen look looks looked like "
        "says said say saying told tell tells advised aware noted note notes noticed notice found "
        "find reported report claims think thinks thought know knows knew took take taken took "
        "take accepted accept anyway anyways anyhow thx thanks thank please pls call called "
        "calling sign signed signing sgnd initial initials photos photo pics pic pictures picture "
        "took sent send email emailed attached date dated time am pm today tomorrow tmrw tonight "
        "morning afternoon monday tuesday wednesday thursday friday saturday sunday mon tue tues "
        "wed thu thur thurs fri sat sun jan feb mar apr jun jul aug sep sept oct nov dec transit "
        "arrival arriving arrived delivery delivered delivering receipt upon during unloading "
        "loading unload load unloaded loaded offload dock truck trailer way inspection insp "
        "inspected inspect further subject pending possible possibly maybe probably bad good well "
        "badly poor severely heavily slightly slight minor major little lot lots bit really "
        "pretty kinda quite total totally completely complete new old own want wants wanted need "
        "needs needed keep kept leave left leaving refuse refused refusing claim filed file "
        "filing file gets severe extensive serious massive heavy huge considerable substantial "
        "upset mad angry sorry wow very help also fyi nb attn re noted ppl anything something "
        "nothing everything everyone somebody signature name print printed x return returned pick "
        "picked pickup hold held ship shipped shipping sending back replace replaced replacement "
        "order reorder reordered asap urgent stop stopped waiting wait waited hurry rain raining "
        "snow snowing weather outside inside home house site jobsite shop store office warehouse "
        "received recd rcvd count counted checked check verified w/ w/o via exception exceptions "
        "exc damage damaged damages dmg dmgd open opened unopened bol pod driver drvr cust "
        "customer carrier spot spots places areas hear heard hears"
    ),
}  # fmt: skip

# Words that steer the reading of what stands around a match. They are no classes of phrases.
READING: dict[str, str] = {
    "sight": "seen visible found observed present evident apparent detected there noticed",
    "looking": "find see locate detect spot observe identify notice",
    "describing form": (
        "torn bent wet open short loose rusty damp cut burst burnt broke off apart busted bad "
        "rough moldy soggy dirty greasy leaky crooked dead up in gone warm hot missing frozen "
        "twisted"
    ),
    "asking": "any is are was were did does do has have can anything what which",
    "agent": "forklift fork forks jack hilo truck tine tines",
    "future": "will would gonna can shall",
    "building": "lobby hallway stairwell elevator foyer vestibule building bldg stairs",
    "locative": "behind by near under beside above below",
    "plain no": "no none nothing nuthin nothin nuttin nuffin nobody neither nor zero nope",
    "dialect not": (
        "didnt dont doesnt aint isnt wasnt arent werent havent hasnt never cant couldnt"
    ),
    "spot": "on in at by off from inside to",
    "truck": "truck trk trailer trlr dock docks",
    "some": "some most few several",
    "visible": (
        "visible visual visable vis apparent apparently obvious visibly external exterior "
        "externally outwardly outward surface"
    ),
    "reach": "to on in with w/ of from outside",
    "back to the goods": "ours new today todays this but recd rcvd received",
    "no goods": (
        "load page trip stop truck trailer day part bol pro po on apt since dated date w visit "
        "phase release drop run sheet sequence seq"
    ),
    # Short words into which letters that were run together may be cut: "nodamage", "3ctnsshort".
    "glued": (
        "no not to of in on is all ctn ctns pcs pc ok box wet and for the sub subj sti good rec "
        "recd plt bol top side leg lid bad cond insp gd per one two was are has by at w/ it as"
    ),
    # Words that deny: where a slip could stand for one of them, it is read as the denial.
    "denying": (
        "undamaged undmgd unbroken uncrushed undented uncracked unmarked unharmed unscathed "
        "untorn undamage nondamaged without nothing never neither cannot isnt wasnt arent werent "
        "didnt doesnt havent hasnt hadnt couldnt wouldnt waived declined unopened"
    ),
    "titles": "attn att attention mr mrs ms miss dr sgd",
    "through": "trough thought throught",
    "due": "ordered expected listed bill bol shipped billed invoiced manifested",
    "seeking": (
        "check checked checking look looked looking inspect inspected examine examined search "
        "searched worried hunt hunted over watch watched test tested scan scanned"
    ),
    "no label": "i x n s k m v",
    "a bit": "bit little mess lot few couple tad total real big small",
    "listing": "& and + thru to or",
    "numbering": "# no number num marked labeled labelled numbered tagged",
    "filler": "ok okay good well inspection",
    "quite": "pretty real really awful quite up in",
    "order": "order ord condition cond shape",
    "label": "exceptions exception noted notes remarks except",
    "whole load": "order shipment load delivery freight",
    "whereto": "for to at from by into per",
    "ordinal": "first second third fourth fifth 1st 2nd 3rd 4th 5th last other",
    "total": "total totals totaling altogether",
    "reserving": "inspection insp inspect further count recount",
    "part of a building": (
        "door doors window windows light lights wall floor ceiling lock latch roof rack racks "
        "gate sink toilet doorway"
    ),
    "of a building": (
        "our office warehouse lobby basement shop store restroom bathroom breakroom cafeteria "
        "stockroom"
    ),
    "which one": "this that the other which last old each another every no",
    "how many": "many qty quantity count pcs",
    "paper": "bol page pages copy copies form forms invoice paperwork slip receipt pod",
    "tripped": "tripped activated triggered red popped",
}
