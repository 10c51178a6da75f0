"""What is known of a job before and around its deliveries: site, parties, shipments, goods, seams.

Each class here is one table of job.toml. A shipment has its own carriers and terms, so two
shipments of one job never mix; an item belongs to one shipment; a seam joins two items.
"""

from __future__ import annotations

from enum import StrEnum
from typing import Annotated

from claimkit.model.contract import LiabilityTerms, OwnTerm, Policy
from claimkit.model.moment import Moment
from claimkit.model.quantities import Length, Money, Span, Weight
from claimkit.model.written import GAP, POSITIVE, Entries, Limits, Names, OneOf, Text, written


class Role(StrEnum):
    """What a party is to the job. A broker arranges carriage and is not a carrier."""

    OWNER = "owner"
    CUSTOMER = "customer"
    CONSIGNEE = "consignee"
    SHIPPER = "shipper"
    SELLER = "seller"
    MAKER = "maker"
    ORIGIN_CARRIER = "origin carrier"
    DELIVERING_CARRIER = "delivering carrier"
    LAST_MILE_CARRIER = "last-mile carrier"
    BROKER = "broker"
    INSURER = "insurer"
    INSTALLER = "installer"


class Terms(StrEnum):
    """Which body of terms governs a shipment. Only texts with rules in claimkit are counted."""

    US_INTERSTATE_MOTOR = "us interstate motor"
    US_INTRASTATE = "us intrastate"
    CANADA = "canada uniform conditions"
    CMR = "cmr"
    MONTREAL = "montreal convention"
    COGSA = "cogsa"
    SELLERS_TRUCK = "seller's own truck"
    PARCEL = "parcel carrier"
    OWN_CONTRACT = "own contract"
    NOT_KNOWN = "not known"


class BillText(StrEnum):
    """Which printed text the bill of lading carries (the three in use differ in their periods)."""

    BEFORE_2016 = "before 2016"
    FROM_2016 = "from 2016"
    FROM_2016_DAY = "from 2016, suit two years and one day"
    NOT_KNOWN = "not known"


class Joint(StrEnum):
    """How two pieces meet. An interlocking joint has no design gap."""

    BUTT = "butt"
    CORNER = "corner"
    LAP = "lap"
    INTERLOCKING = "interlocking"


class Material(StrEnum):
    """What a piece is made of, for its thermal expansion."""

    ACRYLIC = "acrylic"
    GLASS_REINFORCED_POLYESTER = "glass-reinforced polyester"
    GLASS = "glass"
    STONE = "stone"
    STEEL = "steel"
    ALUMINIUM = "aluminium"
    WOOD = "wood"
    OTHER = "other"


PRICES = ("purchase invoice", "retail price", "list price", "quotation", "estimate")
FREIGHT = ("beside the price", "in the price", "by others")

PAPERS = (
    "bill of lading",
    "delivery receipt",
    "invoice",
    "freight bill",
    "instructions",
    "order",
    "inspection report",
    "packing list",
    "packing evidence",
    "repair invoice",
    "other",
)


@written
class Site:
    """Where the goods are delivered."""

    address: Annotated[str, "Street, town, post code."]
    zone: Annotated[str, "IANA time zone of the site, such as America/Chicago.", Text.ZONE]
    country: Annotated[str, "ISO 3166 code whose public holidays count.", Text.COUNTRY] = "US"
    subdivision: Annotated[
        str | None, "State or province code, where its holidays count too. Default: none."
    ] = None


@written
class Party:
    """A firm or person with a part in the job."""

    id: Annotated[str, "Short name used elsewhere in the job.", Text.ID]
    name: Annotated[str, "Full name as it should be printed."]
    roles: Annotated[
        tuple[Role, ...], "What this party is to the job: one or more roles.", Entries(1)
    ]
    address: Annotated[str | None, "Postal address."] = None
    email: Annotated[str | None, "Where written notices go."] = None
    phone: Annotated[str | None, "Telephone. Never printed in the customer's packet."] = None


@written
class Person:
    """Somebody who photographs, receives, measures or writes records."""

    id: Annotated[str, "Short name; records are said_by one of these.", Text.ID]
    name: Annotated[str, "Full name."]
    task: Annotated[str | None, "What this person does on the job."] = None
    phone: Annotated[str | None, "Telephone. Never printed in the customer's packet."] = None
    cameras: Annotated[
        tuple[str, ...],
        "Camera models this person photographs with, as the photos state them (make and model, "
        "or model alone).",
    ] = ()


@written
class TermOverride:
    """A length that the user's own bill of lading, tariff or contract sets, with its source."""

    clause: Annotated[str, "Id of the clause that this replaces; see docs/rules.md."]
    length: Annotated[Span, "The period as stated, such as '15 business days' or '9 months'."]
    source: Annotated[str, "Which paper says so: title, item or section, date."]


@written
class Shipment:
    """One consignment under one bill of lading."""

    id: Annotated[str, "Short name used by items and records.", Text.ID]
    carrier: Annotated[str, "Party id of the delivering carrier.", Names.CARRIER]
    origin_carrier: Annotated[
        str | None, "Party id, where another carrier picked up.", Names.CARRIER
    ] = None
    broker: Annotated[
        str | None, "Party id of a broker. A broker is not a carrier.", Names.BROKER
    ] = None
    shipper: Annotated[str | None, "Party id of the shipper.", Names.PARTY] = None
    consignee: Annotated[str | None, "Party id of the consignee.", Names.PARTY] = None
    bill_number: Annotated[str | None, "Number of the bill of lading."] = None
    bill_date: Annotated[Moment | None, "Date of the bill of lading."] = None
    pro_number: Annotated[str | None, "The carrier's freight-bill (PRO) number."] = None
    origin: Annotated[str | None, "Town and state of origin."] = None
    destination: Annotated[str | None, "Town and state of destination."] = None
    shipped: Annotated[Moment | None, "Date of shipment."] = None
    reasonable_delivery: Annotated[
        Moment | None, "Date by which delivery could reasonably be expected."
    ] = None
    terms: Annotated[Terms, "Which body of terms governs the carriage."] = Terms.NOT_KNOWN
    bill_text: Annotated[BillText, "Which printed bill of lading text applies."] = (
        BillText.NOT_KNOWN
    )
    classification_applies: Annotated[
        bool | None,
        "True where the bill or tariff brings in the freight classification's rules (NMFC).",
    ] = None
    handling_units: Annotated[int | None, "Skids, crates or bundles on the bill."] = None
    handling_unit: Annotated[str, "What a handling unit is here: skid, crate, bundle."] = "skid"
    cartons: Annotated[int | None, "Cartons on the bill, loose or said to be on the units."] = None
    weight: Annotated[Weight | None, "Weight on the bill, such as '412 lb'.", POSITIVE] = None
    freight_charges: Annotated[Money | None, "Freight charges paid or billed."] = None
    clean_at_origin: Annotated[
        bool | None, "True where the bill was signed at origin with no exception."
    ] = None
    packing_evidence: Annotated[
        str | None, "What shows how the goods were packed and their condition at origin."
    ] = None
    override: Annotated[
        tuple[TermOverride, ...], "Periods that your own bill, tariff or contract sets."
    ] = ()
    own_term: Annotated[
        tuple[OwnTerm, ...],
        "Periods that only your own contract or tariff has, each with its source.",
    ] = ()
    liability: Annotated[LiabilityTerms | None, "How far the carrier says that it is liable."] = (
        None
    )
    freight_paid: Annotated[
        str | None,
        "How you paid the freight: beside the goods' price, in it, or others paid it. Only what "
        "you paid beside the price can be claimed beside it.",
        OneOf(FREIGHT),
    ] = None


@written
class Item:
    """One kind of goods as ordered."""

    id: Annotated[str, "Short name used by seams and records.", Text.ID]
    description: Annotated[str, "What it is, as on the order."]
    shipment: Annotated[
        str | None, "Shipment id. May be left out where the job has only one.", Names.THE_SHIPMENT
    ] = None
    quantity: Annotated[int, "How many were ordered.", POSITIVE] = 1
    part_number: Annotated[str | None, "The maker's or seller's number."] = None
    size: Annotated[
        tuple[Length, ...], "Ordered size: width, height, depth as they apply.", POSITIVE
    ] = ()
    size_tolerance: Annotated[
        Length | None, "How far a measured size may be off before it counts as different."
    ] = None
    hand: Annotated[str | None, "Ordered hand: left or right."] = None
    drain_position: Annotated[str | None, "Ordered drain position."] = None
    colour: Annotated[str | None, "Ordered colour or finish."] = None
    material: Annotated[Material | None, "What it is made of."] = None
    accessory: Annotated[bool, "True for hardware and accessories packed with the goods."] = False
    invoice_price: Annotated[
        Money | None, "Purchase invoice price of one, after discounts. Not the retail price."
    ] = None
    price_from: Annotated[
        str, "Where that price comes from. Only the purchase invoice serves a claim.", OneOf(PRICES)
    ] = "purchase invoice"
    maker: Annotated[str | None, "Party id of who made it, where that is known.", Names.PARTY] = (
        None
    )


@written
class Station:
    """A place along a seam where the gap is read."""

    id: Annotated[str, "Short name: top, middle, 300.", Text.ID]
    at: Annotated[
        Length | None,
        "Distance from the seam's start. Two stations with it tell a taper, three whether the "
        "seam is straight.",
    ] = None
    card: Annotated[int | None, "Number of the scale card taped here.", Limits(0, 145)] = None


@written
class Seam:
    """A joint between two pieces, with what its design allows."""

    id: Annotated[str, "Short name used by readings.", Text.ID]
    between: Annotated[tuple[str, str], "The ids of the two items that meet.", Names.ITEM]
    joint: Annotated[
        Joint,
        "How the pieces meet. An interlocking joint has no design gap. A corner is read with a "
        "rule, a feeler or a taper gauge, with a photo as witness: no scale card lies flat in it.",
    ]
    material: Annotated[Material | None, "What the pieces are made of."] = None
    panel_width: Annotated[
        Length | None,
        "Width of panel that expands into this gap, for the effect of temperature.",
        POSITIVE,
    ] = None
    design_gap_min: Annotated[Length | None, "Smallest gap that the design allows.", GAP] = None
    design_gap_max: Annotated[Length | None, "Largest gap that the design allows.", GAP] = None
    design_source: Annotated[str | None, "Which paper states the design gap."] = None
    tolerance: Annotated[
        Length | None,
        "Change in the gap that matters; a change within it counts as unchanged.",
        GAP,
    ] = None
    edge_radius: Annotated[
        Length | None,
        "Rounding of the panels' edges beside the gap, where it is known: '0.5 mm'. A photo shows "
        "the opening between rounded edges wider than they meet.",
        GAP,
    ] = None
    station: Annotated[tuple[Station, ...], "Where along the seam it is read."] = ()


@written
class Opening:
    """An opening or wall that pieces stand in, with what the maker's instructions allow of it."""

    name: Annotated[str, "What the records of opening checks call it."]
    plumb_tolerance: Annotated[
        Length | None, "How far the wall may be out of plumb, to either side.", GAP
    ] = None
    plumb_over: Annotated[
        Length | None,
        "The height over which that holds: '8 ft'. Left out: the height that was checked.",
        POSITIVE,
    ] = None
    level_tolerance: Annotated[
        Length | None, "How far the base may be out of level, to either side.", GAP
    ] = None
    level_over: Annotated[
        Length | None,
        "The length over which that holds. Left out: the length that was checked.",
        POSITIVE,
    ] = None
    square_tolerance: Annotated[
        Length | None, "How far the two diagonals may differ from each other.", GAP
    ] = None
    tolerance_source: Annotated[
        str | None, "Which paper states them: the maker's instructions, with the step."
    ] = None


@written
class SaleTerms:
    """What the seller's terms say, as far as the user has entered it."""

    report_within: Annotated[Span | None, "How soon damage must be reported to the seller."] = None
    reject_within: Annotated[
        Span | None, "How soon goods must be rejected or sent back, where the terms say so."
    ] = None
    refusal: Annotated[
        str | None, "What the terms say of refusing a delivery at the curb, in their words."
    ] = None
    claim_filed_by: Annotated[
        str | None, "Party id of who files the claim with the carrier by these terms.", Names.PARTY
    ] = None
    risk_passes: Annotated[str | None, "When the risk of loss passes to the buyer."] = None
    installation_accepts: Annotated[
        bool | None, "True where the seller's terms call installation acceptance."
    ] = None
    source: Annotated[str | None, "Which paper says so."] = None


@written
class Paper:
    """A document in documents/ and what it is."""

    file: Annotated[str, "Path in the job folder.", Names.FILE]
    what: Annotated[str, "Which document it is.", OneOf(PAPERS)]
    shipment: Annotated[str | None, "Shipment id, where it belongs to one.", Names.SHIPMENT] = None


@written
class PaperMissing:
    """A document that cannot be had, and why: a missing paper is explained."""

    what: Annotated[str, "Which document it is.", OneOf(PAPERS)]
    because: Annotated[str, "Why it is not there, as the carrier should read it."]
    shipment: Annotated[str | None, "Shipment id, where it belongs to one.", Names.SHIPMENT] = None


@written
class Job:
    """One job: everything known before and around its deliveries."""

    title: Annotated[str, "What the job is called in print."]
    reference: Annotated[str | None, "Your own file number."] = None
    site: Annotated[Site, "Where the goods are delivered."]
    party: Annotated[tuple[Party, ...], "Firms and persons with a part in the job."] = ()
    person: Annotated[tuple[Person, ...], "Who photographs, receives, measures, writes."] = ()
    shipment: Annotated[tuple[Shipment, ...], "One table for each consignment."] = ()
    item: Annotated[tuple[Item, ...], "Goods as ordered."] = ()
    seam: Annotated[tuple[Seam, ...], "Joints whose gaps matter."] = ()
    opening: Annotated[
        tuple[Opening, ...], "Openings and walls that pieces stand in, and their tolerances."
    ] = ()
    sale: Annotated[SaleTerms | None, "The seller's terms."] = None
    policy: Annotated[tuple[Policy, ...], "Insurance that may cover the goods."] = ()
    paper: Annotated[tuple[Paper, ...], "Documents and what they are."] = ()
    no_paper: Annotated[
        tuple[PaperMissing, ...], "Documents that cannot be had, each with the reason."
    ] = ()

    def party_named(self, party_id: str | None) -> Party | None:
        """Give the party of that id, or None."""
        return next((p for p in self.party if p.id == party_id), None)

    def shipment_named(self, shipment_id: str | None) -> Shipment | None:
        """Give the shipment of that id; without an id, the only one there is."""
        if shipment_id is None:
            return self.shipment[0] if len(self.shipment) == 1 else None
        return next((s for s in self.shipment if s.id == shipment_id), None)

    def item_named(self, item_id: str | None) -> Item | None:
        """Give the item of that id, or None."""
        return next((i for i in self.item if i.id == item_id), None)

    def seam_named(self, seam_id: str | None) -> Seam | None:
        """Give the seam of that id, or None."""
        return next((s for s in self.seam if s.id == seam_id), None)

    def person_named(self, person_id: str | None) -> Person | None:
        """Give the person of that id, or None."""
        return next((p for p in self.person if p.id == person_id), None)
