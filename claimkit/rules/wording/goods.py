"""Names of goods and their parts, singular: a damaged "vanity top" says which piece it is.

A box, carton or skid alone says no such thing and is not here. Common practice, no source. A noun
that is missing here still names a piece where it stands before a word of damage ("credenza
cracked"); this list lets it do so anywhere in the sentence.
"""

from __future__ import annotations

GOODS = (
    # bath and wet rooms
    "vanity vanitytop sink basin washbasin faucet tap toilet commode bidet bathtub tub whirlpool "
    "jacuzzi shower showerpan tray enclosure screen cistern tank bowl pedestal lavatory urinal "
    "drain strainer wallpanel steamer towel towelbar grab mirror medicine cabinet "
    # furniture
    "sofa couch loveseat sectional recliner chair armchair stool barstool bench ottoman table "
    "tabletop desk credenza hutch buffet sideboard dresser chest bureau armoire wardrobe closet "
    "nightstand bed bedframe bunk crib mattress boxspring headboard footboard bookcase bookshelf "
    "shelf shelving etagere console entertainment curio china piano organ pool billiard slate "
    "futon chaise settee daybed rug carpet lamp lampshade chandelier sconce fixture artwork "
    "painting picture canvas statue sculpture vase planter pot fountain clock safe locker gun "
    "island cart pantry file filing cubicle partition whiteboard podium lectern pew booth "
    # appliances
    "range stove oven cooktop microwave fridge refrigerator freezer icemaker dishwasher washer "
    "dryer washing laundry hood rangehood vent disposal disposer grill smoker griddle fryer "
    "cooler heater boiler furnace fireplace mantel mantle surround hearth insert stovepipe "
    "chimney waterheater wtr htr softener humidifier dehumidifier purifier tv television monitor "
    "speaker soundbar projector printer copier plotter computer server "
    "ups battery inverter generator xfmr vlv compressor condenser coil evaporator ahu rtu "
    "airhandler "
    "minisplit thermostat blower fan ductwork duct damper register grille diffuser chiller "
    "pump motor gearbox valve manifold cylinder piston engine transmission axle wheel tire tyre "
    "rim "
    "hubcap bumper fender grille windshield tailgate quarter seat bike "
    "bicycle ebike scooter motorcycle atv treadmill elliptical rower weights dumbbell "
    # building
    "window sash skylight lite lites pane glass glazing igu storefront curtainwall door prehung "
    "slab jamb frame threshold transom sidelite sidelight shutter blind blinds "
    "tile porcelain ceramic marble granite quartz quartzite travertine limestone stone slate "
    "brick "
    "block paver pavers veneer countertop countertops backsplash hardwood laminate vinyl lvp lvt "
    "plank planks underlayment linoleum drywall sheetrock gypsum plaster "
    "joint compound grout thinset mortar cement plywood osb mdf lumber board stud "
    "beam joist truss rafter trim baseboard moulding molding casing crown column baluster "
    "newel handrail tread riser decking siding shingle shingles roofing "
    "membrane insulation foamboard batt soffit fascia flashing metal "
    "panel panels acoustical grid rebar pipe pipes tubing conduit "
    "fitting fittings elbow flange copper pvc pex culvert manhole grate casting angle channel "
    "bar rod bolt bolts nut nuts screw screws nail nails anchor bracket brackets hinge hinges "
    "pull pulls knob knobs hardware handle handles lockset deadbolt fastener fasteners hanger "
    "paint primer sealer caulk adhesive epoxy resin solvent chemical "
    "post pergola gazebo shed playset swing trampoline spa hottub umbrella awning "
    "canopy tent patio adirondack hammock firepit cabinet cabinets cabs drawer drawers "
    "drawerfront cornice filler toekick lazy carcass "
    # electrical and plant
    "transformer switchgear breaker panelboard loadcenter disconnect starter vfd drive "
    "controller plc cable wire wiring reel luminaire fixture ballast bulb led lens pole "
    "solar module racking charger kiosk atm vending machine lathe mill press drill "
    "saw tablesaw bandsaw jointer planer router sander welder grinder conveyor roller "
    "hoist crane hopper auger vessel exchanger filter filters "
    "gauge sensor display screen keyboard headstock "
    "tailstock spindle chuck tooling die jig "
    # vehicles, farm, medical, shop
    "mower tiller plow blade implement hitch "
    "canoe kayak boat paddleboard wheelchair stretcher gurney exam xray autoclave dental "
    "mannequin showcase gondola signage "
    "banner cup dish dishes glassware wine beer liquor bottle "
    "soda juice produce lettuce apples meat chicken fish seafood cheese milk eggs flour "
    "sugar rice feed seed fertilizer mulch soil pellet pellets salt paper toner ink book books "
    "textile fabric garment apparel shoes toy toys game pillow cushion comforter bedding curtain "
    "curtains linens instrument guitar violin cymbal coffin casket headstone "
    "monument urn "
    # accessories that are missed
    "leg legs foot feet arm arms back base top lid cover shelf shelves rack racks remote cord "
    "adapter manual instructions key keys fob hose kit "
    "hardwarepack partsbag kickplate gasket clip clips dowel cam allen wrench tool "
    "caster casters glide finial shade glides slat slats rail rails support "
    "spring springs ladder bolster pin pins bushing bearing sprocket belt "
    "hub rotor knuckle strut spoiler visor "
    "nightstands unitop splashback splash worktop showerhead cartridge "
    "diverter headrail track rollers sweep astragal mullion muntin louver louvre corbel"
)
