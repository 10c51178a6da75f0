"""One job as a receiving page: page, service worker and manifest, ready for a static host.

Whatever stands in job.toml reaches the page as data that no parser reads as markup or script, and
the page's own policy lets nothing run but the script that is built in here.
"""

from __future__ import annotations

import base64
import hashlib
import json
import re
from dataclasses import asdict
from datetime import date
from importlib import resources
from typing import Any

from claimkit import __version__
from claimkit.compose.sheets.receiving_words import Name, names_of
from claimkit.model.job import Job, Role, Shipment
from claimkit.receiving.page.texts import TEXTS
from claimkit.rules.receiving import INCH_COUNTRIES, as_data
from claimkit.rules.receiving_steps import LOOK, RECEIPT_SHOTS, SAFETY, SHOTS, Row

PAGE, WORKER, MANIFEST = "index.html", "sw.js", "manifest.webmanifest"
# In the order in which each needs those before it.
SCRIPTS = (
    "toml.js",
    "words.js",
    "clock.js",
    "record.js",
    "draft.js",
    "signature.js",
    "parts.js",
    "damage.js",
    "screens.js",
    "signing.js",
    "saving.js",
    "start.js",
)


def page_files(
    job: Job, made: date, shipment: str | None = None, *, telephones: bool = True
) -> dict[str, bytes]:
    """Give the files of the page by name. `made` is the day they are made, at the site.

    `shipment` limits it to one; `telephones=False` leaves numbers out, for a page on a public
    host. Raises KeyError for a shipment that the job does not have.
    """
    data = page_data(job, made, shipment, telephones=telephones)
    style, script = _text("style.css"), _script()
    page = _text("page.html")
    parts = {
        "policy": _policy(script, style),
        "style": style,
        "data": embedded(data),
        "script": script,
        "version": __version__,
    }
    # In one pass: what stands in the job may look like a place to be filled.
    html = re.sub(r"\[\[(\w+)\]\]", lambda place: parts[place[1]], page).encode("utf-8")
    manifest = _manifest().encode("utf-8")
    version = hashlib.sha256(html + manifest).hexdigest()[:16]
    worker = _text("sw.js").replace("[[version]]", version)
    return {PAGE: html, WORKER: worker.encode("utf-8"), MANIFEST: manifest}


def embedded(data: object) -> str:
    """Write data as JSON that ends no script element and is one in every parser.

    `<` is escaped, so neither a closing tag nor a comment can begin in it, and so are the two line
    ends that JSON allows and older scripts do not.
    """
    text = json.dumps(data, ensure_ascii=False, separators=(",", ":"), sort_keys=True)
    for character in "<>&\u2028\u2029":
        text = text.replace(character, f"\\u{ord(character):04x}")
    return text


def page_data(
    job: Job, made: date, shipment: str | None = None, *, telephones: bool = True
) -> dict[str, Any]:
    """Give all that the page knows: the job's part of it, the rules and the texts."""
    shipments = [s for s in job.shipment if shipment in (None, s.id)]
    if shipment is not None and not shipments:
        raise KeyError(shipment)
    return {
        "job": {
            "id": _job_id(job),
            "title": _line(job.title),
            "made": made.isoformat(),
            "zone": job.site.zone,
            "sizes": "in" if job.site.country in INCH_COUNTRIES else "cm",
            "people": [{"id": p.id, "name": _line(p.name)} for p in job.person],
            "shipments": [_shipment(job, one) for one in shipments] or [_shipment(job, None)],
            "calls": _calls(job) if telephones else [],
        },
        "rules": as_data(),
        "safety": _rows(SAFETY),
        "shots": _rows(SHOTS),
        "receipt_shots": _rows(RECEIPT_SHOTS),
        "look": _rows(LOOK),
        "texts": {key: [said.en, said.es] for key, said in TEXTS.items()},
    }


def _job_id(job: Job) -> str:
    """Name the job's draft on the telephone: the same for a page made anew, no other job's."""
    told = "\0".join([job.title, job.site.address, job.reference or ""])
    return hashlib.sha256(told.encode("utf-8", "surrogatepass")).hexdigest()[:16]


def _shipment(job: Job, shipment: Shipment | None) -> dict[str, Any]:
    names = names_of(job, shipment)
    carrier = job.party_named(shipment.carrier) if shipment else None
    return {
        "id": shipment.id if shipment else None,
        "carrier": _line(carrier.name if carrier else shipment.carrier if shipment else ""),
        "pro": _line((shipment.pro_number if shipment else None) or ""),
        "bill": _line((shipment.bill_number if shipment else None) or ""),
        "units": shipment.handling_units if shipment else None,
        "cartons": shipment.cartons if shipment else None,
        "unit": _name(names.unit),
        "carton": _name(names.carton),
        "items": [
            {"id": key, "name": _name(name), "quantity": quantity}
            for key, (name, quantity) in names.items.items()
        ],
    }


def _name(name: Name) -> list[list[str]]:
    """Give one and many for paper, handheld and in Spanish."""
    return [list(name.of("long")), list(name.of("short")), list(name.of("es"))]


def _calls(job: Job) -> list[list[str]]:
    people = [(p.name, p.phone) for p in job.person if p.phone]
    own = [(p.name, p.phone) for p in job.party if p.phone and Role.OWNER in p.roles]
    return [[_line(name), _line(phone or "")] for name, phone in people + own]


def _rows(rows: tuple[Row, ...]) -> list[dict[str, Any]]:
    return [{"id": row.id, **asdict(row.text)} for row in rows]


def _script() -> str:
    body = "\n".join(_text(name) for name in SCRIPTS)
    return f"(() => {{\n'use strict';\n{body}\n}})();"


def _policy(script: str, style: str) -> str:
    """Give the page's policy: its own script and style by their hashes, and nothing else.

    Content Security Policy Level 3, W3C: inline code runs only where its hash is listed.
    """

    def hashed(text: str) -> str:
        digest = hashlib.sha256(text.encode("utf-8")).digest()
        return f"'sha256-{base64.b64encode(digest).decode('ascii')}'"

    return (
        f"default-src 'none'; script-src {hashed(script)}; style-src {hashed(style)}; "
        "img-src data: blob:; worker-src 'self'; manifest-src 'self'; base-uri 'none'; "
        "form-action 'none'"
    )


def _manifest() -> str:
    icon = base64.b64encode(_text("icon.svg").encode("utf-8")).decode("ascii")
    manifest = {
        "name": "Receiving / Recepción",
        "short_name": "Receiving",
        "start_url": "./",
        "scope": "./",
        "display": "standalone",
        "background_color": "#ffffff",
        "theme_color": "#000000",
        "icons": [
            {"src": f"data:image/svg+xml;base64,{icon}", "sizes": "any", "type": "image/svg+xml"}
        ],
    }
    return json.dumps(manifest, ensure_ascii=False, indent=1) + "\n"


def _text(name: str) -> str:
    return resources.files("claimkit.receiving.page").joinpath(name).read_text(encoding="utf-8")


def _line(text: str) -> str:
    return " ".join(text.split())
