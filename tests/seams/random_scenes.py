"""Draw scenes at random: good photos, and each way in which a photo goes wrong.

The ranges are our own idea of a phone in a crew's hand: 12 megapixels, 30 to 52 cm away, tilted up
to 25 degrees, panels of every brightness with edges broken by 0.05 to 0.4 mm, sheets printed
within 0.65 %. A pair is one station photographed twice: the same card and the same edges.
"""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np

from claimkit.rules import card_layout as layout
from tests.seams.render_photo import Camera, Card, Develop, Fill, Lamp, Panels, Scene

KINDS = (
    "good",
    "round",
    "low",
    "caulk",
    "oblique",
    "step",
    "blurred",
    "copy",
    "far",
    "sidelit",
    "flash",
    "stranger",
)
STRANGERS = ("swapped", "mixed", "covered", "not ours")


def _lamps(rng: np.random.Generator, lean: float, strength: float) -> tuple[Lamp, ...]:
    return tuple(
        Lamp(
            across=float(rng.uniform(-lean, lean)),
            along=float(rng.uniform(-1.0, 1.0)),
            half_width=float(rng.uniform(0.06, 0.45)),
            strength=float(rng.uniform(0.1, strength)),
        )
        for _ in range(rng.integers(0, 4))
    )


def _albedo(rng: np.random.Generator) -> tuple[float, float]:
    which = rng.random()
    if which < 0.65:
        base = rng.uniform(0.55, 0.88)
    elif which < 0.9:
        base = rng.uniform(0.25, 0.55)
    else:
        base = rng.uniform(0.12, 0.25)
    return tuple(float(np.clip(base * rng.normal(1.0, 0.04), 0.05, 0.9)) for _ in range(2))  # type: ignore[return-value]


def _panels(rng: np.random.Generator) -> Panels:
    radius = float(rng.uniform(0.05, 0.4))
    return Panels(
        gap=float(np.exp(rng.uniform(math.log(0.8), math.log(8.0)))),
        taper=float(rng.normal(0.0, 0.08)),
        slant=float(rng.normal(0.0, 0.02)),
        offset=float(np.clip(rng.normal(0.0, 1.0), -3.0, 3.0)),
        step=float(rng.uniform(-0.25, 0.25)),
        radius=(radius, float(np.clip(radius * rng.normal(1.0, 0.1), 0.03, 0.5))),
        albedo=_albedo(rng),
        depth=float(rng.uniform(6.0, 40.0)),
        backing=float(rng.uniform(0.05, 0.5)),
        gloss=float(rng.choice([0.0, rng.uniform(0.3, 1.0)])),
        roughness=float(rng.uniform(0.05, 0.35)),
        texture=float(rng.choice([0.003, rng.uniform(0.01, 0.05)])),
        grain_mm=float(rng.uniform(0.3, 3.0)),
        veins=float(rng.choice([0.0, 0.0, rng.uniform(0.05, 0.3)])),
        wall=float(rng.choice([1.0, rng.uniform(0.05, 1.0)])),
        lip=float(rng.choice([1.0, rng.uniform(0.3, 1.0)])),
    )


def _camera(rng: np.random.Generator) -> Camera:
    return Camera(
        focal_35=float(rng.uniform(24.0, 28.0)),
        distance=float(rng.uniform(300.0, 520.0)),
        tilt=float(rng.uniform(0.0, math.radians(25.0))),
        azimuth=float(rng.uniform(0.0, 2.0 * math.pi)),
        roll=float(rng.normal(0.0, 0.1) + rng.choice([0.0, 0.5, 1.0, -0.5]) * math.pi),
        aim=(float(rng.normal(46.0, 12.0)), float(rng.normal(40.0, 12.0))),
        bend=float(rng.normal(0.0, 0.004)),
    )


def _develop(rng: np.random.Generator) -> Develop:
    return Develop(
        blur=float(rng.uniform(0.6, 1.4)),
        motion=(float(rng.normal(0.0, 0.4)), float(rng.normal(0.0, 0.4))),
        noise=float(np.exp(rng.uniform(math.log(0.002), math.log(0.015)))),
        sharpen=float(rng.uniform(0.0, 0.8)),
        exposure=float(rng.uniform(0.5, 0.95)),
        contrast=float(rng.uniform(-0.2, 0.6)),
        quality=int(rng.integers(82, 96)),
    )


def good(rng: np.random.Generator) -> Scene:
    """Draw a photo taken as the sheet says."""
    return Scene(
        panels=_panels(rng),
        card=Card(
            number=int(rng.integers(0, 146)),
            scale=(float(rng.uniform(0.9935, 1.0065)), float(rng.uniform(0.9935, 1.0065))),
            lies=str(rng.choice(["flat", "bent"])),
            thick=float(rng.uniform(0.1, 0.3)),
            curl=float(np.abs(rng.normal(0.0, 0.15))),
        ),
        camera=_camera(rng),
        develop=_develop(rng),
        sky=float(rng.uniform(0.35, 1.0)),
        lamps=_lamps(rng, 0.9, 0.8),
        gradient=(float(rng.normal(0.0, 0.2)), float(rng.normal(0.0, 0.2))),
        seed=int(rng.integers(0, 2**31)),
    )


def scene(kind: str, rng: np.random.Generator) -> Scene:
    """Draw a photo of one of the KINDS."""
    s = good(rng)
    p = s.panels
    if kind == "round":
        r = float(rng.uniform(0.4, 1.2))
        return replace(s, panels=replace(p, radius=(r, r * float(rng.uniform(0.9, 1.1)))))
    if kind == "low":
        return _low(s, rng)
    if kind == "caulk":
        near = p.albedo[0] * rng.uniform(0.7, 1.2)
        albedo = float(rng.choice([near, rng.uniform(0.02, 0.9), 0.85]))
        fill = Fill(
            albedo=float(np.clip(albedo, 0.02, 0.92)),
            recess=float(rng.uniform(0.0, 1.0)),
            hollow=float(rng.uniform(0.0, 0.15)) * p.gap,
            smear=float(rng.choice([0.0, rng.uniform(0.0, 0.8)])),
        )
        return replace(s, panels=replace(p, fill=fill))
    if kind == "oblique":
        return replace(s, camera=replace(s.camera, tilt=math.radians(rng.uniform(30.0, 50.0))))
    if kind == "step":
        step = float(rng.choice([-1, 1]) * rng.uniform(0.3, 2.5))
        return replace(s, panels=replace(p, step=step))
    if kind == "blurred":
        blur = float(rng.uniform(2.5, 5.0))
        return replace(s, develop=replace(s.develop, blur=blur))
    if kind == "copy":
        side, quality = int(rng.choice([1280, 1600, 2048])), int(rng.integers(60, 82))
        return replace(s, develop=replace(s.develop, long_side=side, quality=quality))
    if kind == "far":
        return replace(s, camera=replace(s.camera, distance=float(rng.uniform(700.0, 1400.0))))
    if kind == "sidelit":
        return replace(s, sky=float(rng.uniform(0.2, 0.6)), lamps=_lamps(rng, 1.25, 1.4))
    if kind == "flash":
        return replace(s, sky=float(rng.uniform(0.2, 0.6)), flash=float(rng.uniform(0.2, 1.5)))
    if kind == "stranger":
        return _stranger(s, rng)
    if kind == "good":
        return s
    raise ValueError(kind)


def _stranger(s: Scene, rng: np.random.Generator) -> Scene:
    """Tags that are not a whole card of ours; `number` stays that of the card they look like."""
    which = STRANGERS[int(rng.integers(0, len(STRANGERS)))]
    a, b, c, d = layout.tags_of(s.card.number or 0)
    if which == "swapped":
        return replace(s, card=replace(s.card, tags=(a, b, d, c)))
    if which == "mixed":
        return replace(s, card=replace(s.card, tags=(a, b, c, (d + 4) % 584)))
    if which == "covered":
        return replace(s, card=replace(s.card, covered=int(rng.integers(0, 4))))
    return replace(s, card=replace(s.card, ours=False))


def _low(s: Scene, rng: np.random.Generator) -> Scene:
    """Little between panel and gap: dark panels, or a light floor close below them."""
    if rng.random() < 0.5:
        dark = float(rng.uniform(0.03, 0.1))
        return replace(s, panels=replace(s.panels, albedo=(dark, dark)))
    depth, backing = float(rng.uniform(0.3, 0.8)) * s.panels.gap, float(rng.uniform(0.4, 0.8))
    return replace(s, panels=replace(s.panels, depth=max(depth, 0.5), backing=backing))


def pair(rng: np.random.Generator) -> tuple[Scene, Scene]:
    """Draw one station twice with the same card: half of them unchanged, others moved."""
    first, again = good(rng), good(rng)
    p = first.panels
    moved = float(rng.choice([0.0, rng.uniform(-0.8, 1.5)]))
    panels = replace(
        p,
        gap=max(p.gap + moved, 0.6),
        taper=p.taper + float(rng.normal(0.0, 0.03)),
        offset=again.panels.offset,
        slant=again.panels.slant,
        step=again.panels.step,
    )
    card = replace(again.card, number=first.card.number, scale=first.card.scale)
    return first, replace(again, panels=panels, card=card)
