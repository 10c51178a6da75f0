"""Photos of seams with a scale card, drawn by casting rays, with the gap known in each window.

Two panels with rounded edges, a dark or filled gap between them, and the card on top are met by
rays from a pinhole camera; light is a sky with strips of lamps, cut off by the panels' own edges
(view factors of long strips, exact in the cross-section), with gloss and light thrown back between
the walls. Then come lens blur, noise, sharpening, a tone curve and JPEG. Lengths are in mm in the
card's own frame (x right, y down, h towards the viewer), angles in radians unless named.
"""

from __future__ import annotations

import io
import math
from dataclasses import dataclass, field, replace

import numpy as np
from numpy.typing import NDArray

from claimkit.rules import card_layout as layout

Array = NDArray[np.float64]
SEAM_X = layout.SEAM_X
MIDDLE_Y = layout.CARD_HIGH / 2.0
WINDOW_Y = tuple(notch.centre[1] for notch in layout.NOTCHES)
BETWEEN_WINDOWS = WINDOW_Y[1] - WINDOW_Y[0]
PAPER, INK = 0.84, 0.045
SIDES = (-1, 1)


@dataclass(frozen=True)
class Lamp:
    """A strip of light: angle from upright across the seam, along the seam, half width."""

    across: float
    along: float
    half_width: float
    strength: float


@dataclass(frozen=True)
class Fill:
    """What fills the joint: how white, how far below the left panel, how hollow, how far over."""

    albedo: float
    recess: float
    hollow: float
    smear: float = 0.0


@dataclass(frozen=True)
class Panels:
    """The two panels and the seam between them.

    `step` is how much the right one stands proud. `wall` and `lip` are how light the cut edges and
    their rounding are beside the faces: a laminate's dark core, a worn or dirty edge.
    """

    gap: float = 4.0
    taper: float = 0.0
    slant: float = 0.0
    offset: float = 0.0
    step: float = 0.0
    radius: tuple[float, float] = (0.2, 0.2)
    albedo: tuple[float, float] = (0.75, 0.75)
    depth: float = 20.0
    backing: float = 0.2
    gloss: float = 0.0
    roughness: float = 0.15
    texture: float = 0.02
    grain_mm: float = 1.0
    veins: float = 0.0
    wall: float = 1.0
    lip: float = 1.0
    fill: Fill | None = None

    def gap_at(self, y: float) -> float:
        return self.gap + self.taper * (y - MIDDLE_Y) / BETWEEN_WINDOWS


@dataclass(frozen=True)
class Card:
    """The printed card: number, printed scale, how it lies over a step, thickness, curl."""

    number: int | None = 12
    scale: tuple[float, float] = (1.0, 1.0)
    lies: str = "flat"
    thick: float = 0.15
    curl: float = 0.0
    tags: tuple[int, int, int, int] | None = None
    covered: int | None = None
    ours: bool = True
    turned: bool = False

    def ids(self) -> tuple[int, ...]:
        return self.tags or layout.tags_of(self.number or 0)


@dataclass(frozen=True)
class Camera:
    """A pinhole: size in pixels, focal length as on 35 mm film, where it stands and looks."""

    wide: int = 4032
    high: int = 3024
    focal_35: float = 26.0
    distance: float = 400.0
    tilt: float = 0.0
    azimuth: float = 0.0
    roll: float = 0.0
    aim: tuple[float, float] = (46.0, 40.0)
    bend: float = 0.0

    @property
    def focal_px(self) -> float:
        return self.focal_35 / 36.0 * max(self.wide, self.high)


@dataclass(frozen=True)
class Develop:
    """From light to file: blur and motion in px, noise, sharpening, exposure, tone, quality."""

    blur: float = 0.9
    motion: tuple[float, float] = (0.0, 0.0)
    noise: float = 0.004
    sharpen: float = 0.3
    exposure: float = 0.8
    contrast: float = 0.0
    quality: int = 92
    long_side: int | None = None


@dataclass(frozen=True)
class Scene:
    """One photo."""

    panels: Panels = field(default_factory=Panels)
    card: Card = field(default_factory=Card)
    camera: Camera = field(default_factory=Camera)
    develop: Develop = field(default_factory=Develop)
    sky: float = 0.7
    lamps: tuple[Lamp, ...] = (Lamp(0.5, 0.3, 0.3, 0.5),)
    gradient: tuple[float, float] = (0.0, 0.0)
    flash: float = 0.0
    seed: int = 1

    def truth(self) -> tuple[float, float]:
        """Give the gap face to face in the middle of the upper and of the lower window."""
        return tuple(self.panels.gap_at(y) for y in WINDOW_Y)  # type: ignore[return-value]


# --- the camera ------------------------------------------------------------------------------


def _axes(camera: Camera) -> tuple[Array, Array, Array, Array]:
    """Give the camera's place and its forward, right and down directions, as (x, y, h)."""
    lean = math.sin(camera.tilt)
    away = np.array(
        [lean * math.cos(camera.azimuth), lean * math.sin(camera.azimuth), math.cos(camera.tilt)]
    )
    target = np.array([camera.aim[0], camera.aim[1], 0.0])
    down = np.array([0.0, 1.0, 0.0])
    down -= away * (down @ away)
    down /= math.sqrt(down @ down)
    right = np.cross(down, away)
    c, s = math.cos(camera.roll), math.sin(camera.roll)
    right, down = c * right + s * down, c * down - s * right
    return target + camera.distance * away, -away, right, down


def project(camera: Camera, x: Array, y: Array, h: Array | float = 0.0) -> tuple[Array, Array]:
    """Give the pixel of a point; the lens's bend is undone by a few steps."""
    place, forward, right, down = _axes(camera)
    points = np.stack(np.broadcast_arrays(x, y, np.asarray(h, float)), -1) - place
    deep = points @ forward
    u, v = points @ right / deep, points @ down / deep
    bent_u, bent_v = u, v
    for _ in range(4):
        stretch = 1.0 + camera.bend * (bent_u**2 + bent_v**2)
        bent_u, bent_v = u / stretch, v / stretch
    f = camera.focal_px
    return bent_u * f + (camera.wide - 1) / 2.0, bent_v * f + (camera.high - 1) / 2.0


def _rays(camera: Camera, u: Array, v: Array) -> tuple[Array, Array, Array, Array]:
    """Give where the rays of pixels meet h = 0 and their slopes dx/dh and dy/dh."""
    place, forward, right, down = _axes(camera)
    f = camera.focal_px
    a, b = (u - (camera.wide - 1) / 2.0) / f, (v - (camera.high - 1) / 2.0) / f
    stretch = 1.0 + camera.bend * (a * a + b * b)
    a, b = a * stretch, b * stretch
    dx = forward[0] + a * right[0] + b * down[0]
    dy = forward[1] + a * right[1] + b * down[1]
    dh = forward[2] + a * right[2] + b * down[2]
    sx, sy = dx / dh, dy / dh
    return place[0] - sx * place[2], place[1] - sy * place[2], sx, sy


# --- texture ---------------------------------------------------------------------------------


def _grain(rng: np.random.Generator, size: int = 512) -> Array:
    """Give periodic noise of several sizes, mean 0 and SD 1; one pixel is a tenth of a grain."""
    ky = np.fft.fftfreq(size)[:, None]
    kx = np.fft.rfftfreq(size)[None, :]
    k = np.hypot(kx, ky)
    spectrum = 1.0 / (k + 0.004) * np.exp(-((k / 0.16) ** 2))
    noise = np.fft.irfft2(np.fft.rfft2(rng.standard_normal((size, size))) * spectrum, (size, size))
    noise -= noise.mean()
    return np.asarray(noise / noise.std())


def _look(noise: Array, x: Array, y: Array, grain_mm: float) -> Array:
    size = noise.shape[0]
    i = np.floor(y * (10.0 / grain_mm)).astype(np.int64) % size
    j = np.floor(x * (10.0 / grain_mm)).astype(np.int64) % size
    return np.asarray(noise[i, j])


# --- light across the seam -------------------------------------------------------------------


def _lit(scene: Scene, normal: Array, low: Array, high: Array) -> tuple[Array, Array]:
    """Give irradiance and the open part of the sky for a normal and the sky seen, as angles."""
    high = np.maximum(high, low)
    open_part = (np.sin(high - normal) - np.sin(low - normal)) / 2.0
    light = scene.sky * open_part
    for lamp in scene.lamps:
        a = np.clip(np.maximum(low, lamp.across - lamp.half_width), -1.57, 1.57)
        b = np.clip(np.minimum(high, lamp.across + lamp.half_width), -1.57, 1.57)
        part = np.where(b > a, np.sin(b - normal) - np.sin(a - normal), 0.0)
        light = light + lamp.strength * math.cos(lamp.along) * np.maximum(part, 0.0) / (
            2.0 * math.sin(lamp.half_width)
        )
    return light, open_part


def _mirrored(scene: Scene, normal: Array, view: Array, low: Array, high: Array) -> Array:
    """Give what a glossy surface mirrors of sky and lamps, with more at a grazing look."""
    p = scene.panels
    bounce = 2.0 * normal - view
    seen = np.where((bounce > low) & (bounce < high), scene.sky, 0.03 * scene.sky)
    for lamp in scene.lamps:
        wide = math.hypot(lamp.half_width, p.roughness)
        along = math.exp(-0.5 * (lamp.along / wide) ** 2)
        lobe = np.exp(-0.5 * ((bounce - lamp.across) / wide) ** 2) * along
        shown = (bounce > low) & (bounce < high)
        seen = seen + np.where(shown, lamp.strength / (2.0 * wide) * lobe, 0.0)
    grazing = (1.0 - np.abs(np.cos(normal - view))) ** 5
    return p.gloss * (0.04 + 0.96 * grazing) * seen


def _edge_angle(x: Array, h: Array, cx: Array, ch: float, r: float, side: int) -> Array:
    """Give the angle from upright at which a rounded edge on one side cuts off the sky."""
    vx, vh = cx - x, ch - h
    distance = np.maximum(np.hypot(vx, vh), r + 1e-9)
    angle = np.arctan2(vx, vh)
    limit = angle - side * np.arcsin(np.minimum(r / distance, 1.0))
    return np.clip(limit, -math.pi / 2, math.pi / 2)


@dataclass
class _Hit:
    """The nearest meeting so far of each ray with the cross-section."""

    h: Array
    x: Array
    normal: Array
    what: NDArray[np.int8]

    def offer(self, where: NDArray[np.bool_], h: Array, x: Array, normal: Array, what: int) -> None:
        better = where & (h > self.h)
        self.h = np.where(better, h, self.h)
        self.x = np.where(better, x, self.x)
        self.normal = np.where(better, normal, self.normal)
        self.what = np.where(better, np.int8(what), self.what)


def _meet(scene: Scene, x0: Array, t: Array, g: Array) -> _Hit:
    """Cast rays x = x0 + t h into the cross-section: floor or fill, walls, round edges, tops."""
    p = scene.panels
    tops = (0.0, p.step)
    fill = p.fill
    floor = -p.depth if fill is None else -fill.recess
    half = g / 2.0
    x = x0 + t * floor
    h = np.full_like(x, floor)
    tilt = np.zeros_like(x)
    if fill is not None:
        s = np.clip(x / np.maximum(half, 1e-6), -1.0, 1.0)
        h = floor - fill.hollow * (1.0 - s * s)
        x = x0 + t * h
        tilt = np.arctan(-2.0 * fill.hollow * s / np.maximum(half, 1e-6))
    hit = _Hit(h, x, tilt, np.zeros(x.shape, np.int8))
    for side, top, r in zip(SIDES, tops, p.radius, strict=True):
        face = side * half
        with np.errstate(divide="ignore", invalid="ignore"):
            h = (face - x0) / t
        ok = np.isfinite(h) & (h < top - r) & (h > floor)
        hit.offer(ok, np.where(ok, h, 0.0), face, np.full_like(x, -side * math.pi / 2), side)
        cx, ch = face + side * r, top - r
        # |x0 + t h - cx|^2 + (h - ch)^2 = r^2
        e = x0 - cx
        a, b, c = 1.0 + t * t, t * e - ch, e * e + ch * ch - r * r
        disc = b * b - a * c
        h = (-b + np.sqrt(np.maximum(disc, 0.0))) / a
        x = x0 + t * h
        ok = (disc > 0.0) & (h >= ch) & (side * (x - cx) <= 0.0)
        hit.offer(ok, h, x, np.arctan2(x - cx, h - ch), side)
        x = x0 + t * top
        ok = side * (x - cx) >= 0.0
        hit.offer(ok, np.full_like(x, top), x, np.zeros_like(x), side)
    return hit


def _panel_light(
    scene: Scene, x: Array, y: Array, sx: Array, sy: Array, grain: Array
) -> tuple[Array, Array]:
    """Give the light from panels and gap to the camera for rays at h = 0, and the height met."""
    p = scene.panels
    c, m = math.cos(p.slant), math.tan(p.slant)
    xi = ((x - SEAM_X - p.offset) - m * (y - MIDDLE_Y)) * c
    t = (sx - m * sy) * c
    g = p.gap + p.taper * (y - MIDDLE_Y) / BETWEEN_WINDOWS
    hit = _meet(scene, xi, t, g)
    half = g / 2.0
    right = _edge_angle(hit.x, hit.h, half + p.radius[1], p.step - p.radius[1], p.radius[1], 1)
    left = _edge_angle(hit.x, hit.h, -half - p.radius[0], -p.radius[0], p.radius[0], -1)
    low = np.where(hit.what == -1, -math.pi / 2, left)
    high = np.where(hit.what == 1, math.pi / 2, right)
    low = np.maximum(low, hit.normal - math.pi / 2)
    high = np.minimum(high, hit.normal + math.pi / 2)
    light, open_part = _lit(scene, hit.normal, low, high)
    texture = 1.0 + p.texture * _look(grain, x + 37.0 * (xi > 0), y, p.grain_mm)
    if p.veins:
        vein = np.abs(_look(grain, x * 0.2 + 11.0 * (xi > 0), y * 0.2, p.grain_mm))
        texture = texture * (1.0 - p.veins * np.exp(-((vein / 0.06) ** 2)))
    floor_albedo = p.backing if p.fill is None else p.fill.albedo
    albedo = np.choose(hit.what + 1, [p.albedo[0], floor_albedo, p.albedo[1]])
    if p.fill is not None and p.fill.smear > 0.0:
        over = (np.abs(hit.x) < half + p.fill.smear) & (hit.what != 0)
        albedo = np.where(over, p.fill.albedo, albedo)
    lean = np.abs(hit.normal) / (math.pi / 2)
    cut_edge = np.where(lean > 0.999, p.wall, 1.0 + (p.lip - 1.0) * lean)
    albedo = np.where(hit.what != 0, albedo * cut_edge, albedo)
    albedo = np.clip(albedo * texture, 0.01, 0.95)
    out = albedo * light / (1.0 - 0.7 * albedo * (1.0 - np.clip(open_part, 0.0, 1.0)))
    if p.gloss:
        shiny = np.where(hit.what == 0, 0.0 if p.fill is None else 0.6, 1.0)
        out = out + shiny * _mirrored(scene, hit.normal, np.arctan(t), low, high)
    return out, hit.h


# --- the card --------------------------------------------------------------------------------


def _card_height(scene: Scene, x: Array) -> Array:
    """Give the card's height at x: flat on the higher panel, bent over a step, or bridging it."""
    card, s = scene.card, scene.panels.step
    u = (x - SEAM_X) / SEAM_X
    curl = card.curl * u * u
    if card.lies == "bent":
        low, high = min(0.0, s), max(0.0, s)
        part = np.clip(1.0 - (u if s < 0 else -u), 0.0, 1.0)
        return low + (high - low) * part + card.thick + curl
    if card.lies == "bridge":
        return s * (u + 1.0) / 2.0 + max(0.0, 0.5 * abs(s)) + card.thick + curl
    return max(0.0, s) + card.thick + curl


def _card_print(card: Card) -> Array:
    """Give the card's ink at ten dots to the millimetre, 0 white to 1 black, nan where cut out."""
    dot = 10
    ink = np.zeros((round(layout.CARD_HIGH * dot), round(layout.CARD_WIDE * dot)))

    def area(x: float, y: float, wide: float, high: float) -> tuple[slice, slice]:
        return (
            slice(round(y * dot), round((y + high) * dot)),
            slice(round(x * dot), round((x + wide) * dot)),
        )

    for place, (tag, (_, box)) in enumerate(zip(card.ids(), layout.TAG_PLACES, strict=True)):
        black = ~np.rot90(np.array(layout.cells(tag)), 2 if card.turned else 0)
        size = round(layout.CELL * dot)
        ink[area(box.x, box.y, box.wide, box.high)] = np.kron(black, np.ones((size, size)))
        if card.covered == place:
            ink[area(box.x, box.y, box.wide * 0.6, box.high)] = 0.3
    for x, y0, y1 in layout.TICKS:
        ink[area(x - 0.2, y0, 0.4, y1 - y0)] = 1.0
    for k in range(5):
        ink[area(SEAM_X - 8.0 + 3.4 * k, MIDDLE_Y - 2.5, 1.6, 4.0)] = 0.9
    for notch in layout.NOTCHES:
        ink[area(notch.x, notch.y, notch.wide, notch.high)] = np.nan
    return ink


def _flat_light(scene: Scene) -> float:
    zero = np.zeros(1)
    light, _ = _lit(scene, zero, zero - math.pi / 2, zero + math.pi / 2)
    return float(light[0])


def _card_shade(scene: Scene, x: Array, y: Array, h: Array) -> Array:
    """Give how much of the light reaches a panel near the edges of the notches around it."""
    above = np.maximum(_card_height(scene, x) - h, 0.0)
    shade = np.ones_like(x)
    for notch in layout.NOTCHES:
        inside = (x > notch.x) & (x < notch.x + notch.wide)
        inside &= (y > notch.y) & (y < notch.y + notch.high)
        edges = (x - notch.x, notch.x + notch.wide - x, y - notch.y, notch.y + notch.high - y)
        outer = 2 if notch.y == 0.0 else 3
        for place, edge in enumerate(edges):
            if place == outer:
                continue
            d = np.maximum(edge, 1e-6)
            shade *= np.where(inside, 0.5 + 0.5 * d / np.hypot(d, above + 1e-9), 1.0)
    return shade


def _with_flash(scene: Scene) -> Scene:
    """Add the phone's own lamp, a centimetre beside its lens."""
    if not scene.flash:
        return scene
    place, *_ = _axes(scene.camera)
    across = math.atan2(place[0] + 10.0 - SEAM_X, place[2])
    along = math.atan2(place[1] - MIDDLE_Y, place[2])
    return replace(scene, lamps=(*scene.lamps, Lamp(across, along, 0.02, scene.flash)))


# --- the picture -----------------------------------------------------------------------------


def _radiance(scene: Scene, u: Array, v: Array, grain: Array, ink: Array | None) -> Array:
    x0, y0, sx, sy = _rays(scene.camera, u, v)
    shape, flat = x0.shape, _flat_light(scene)
    out = np.empty(shape)
    on_card = np.zeros(shape, bool)
    if ink is not None:
        x, y = x0, y0
        for _ in range(3):
            h = _card_height(scene, x)
            x, y = x0 + sx * h, y0 + sy * h
        kx, ky = scene.card.scale
        i = np.floor(((y - MIDDLE_Y) / ky + MIDDLE_Y) * 10.0).astype(np.int64)
        j = np.floor(((x - SEAM_X) / kx + SEAM_X) * 10.0).astype(np.int64)
        inside = (i >= 0) & (j >= 0) & (i < ink.shape[0]) & (j < ink.shape[1])
        black = np.where(inside, ink[np.where(inside, i, 0), np.where(inside, j, 0)], np.nan)
        on_card = ~np.isnan(black)
        out[on_card] = (flat * (PAPER + (INK - PAPER) * black))[on_card]
    rest = ~on_card
    light, h = _panel_light(scene, x0[rest], y0[rest], sx[rest], sy[rest], grain)
    if ink is not None:
        light = light * _card_shade(scene, x0[rest], y0[rest], h)
    out[rest] = light
    gx, gy = scene.gradient
    return out * np.clip(1.0 + gx * (x0 - SEAM_X) / 100.0 + gy * (y0 - MIDDLE_Y) / 100.0, 0.15, 3.0)


def _box(scene: Scene, pad: int = 16) -> tuple[int, int, int, int]:
    """Give the part of the picture that holds the card, in pixels: x0, y0, x1, y1."""
    x = np.array([-6.0, 98.0, 98.0, -6.0])
    y = np.array([-6.0, -6.0, 86.0, 86.0])
    u, v = project(scene.camera, x, y)
    c = scene.camera
    return (
        max(int(u.min()) - pad, 0),
        max(int(v.min()) - pad, 0),
        min(int(u.max()) + pad, c.wide),
        min(int(v.max()) + pad, c.high),
    )


def _blurred(picture: Array, develop: Develop) -> Array:
    """Blur by a Gaussian, and along a short line for a hand that moved."""
    sigma = max(develop.blur, 0.05)
    reach = max(1, math.ceil(3.5 * sigma))
    k = np.exp(-0.5 * (np.arange(-reach, reach + 1) / sigma) ** 2)
    k /= k.sum()
    for axis in (0, 1):
        pads = [(reach, reach) if a == axis else (0, 0) for a in (0, 1)]
        wide = np.pad(picture, pads, mode="edge")
        n = picture.shape[axis]
        picture = sum(w * np.take(wide, np.arange(i, i + n), axis=axis) for i, w in enumerate(k))
    mx, my = develop.motion
    if mx or my:
        steps = np.linspace(-0.5, 0.5, max(3, 2 * math.ceil(math.hypot(mx, my)) + 1))
        picture = sum(_shifted(picture, s * mx, s * my) for s in steps) / len(steps)
    return picture


def _shifted(picture: Array, dx: float, dy: float) -> Array:
    for axis, d in ((1, dx), (0, dy)):
        whole = math.floor(d)
        part = d - whole
        a = np.roll(picture, whole, axis)
        picture = (1.0 - part) * a + part * np.roll(picture, whole + 1, axis)
    return picture


def _developed(light: Array, develop: Develop, rng: np.random.Generator) -> Array:
    """Turn light into grey values 0 to 255: noise, tone curve, sharpening."""
    noise = np.sqrt(np.maximum(light, 0.0) * 0.6 + 0.1) * develop.noise
    light = light + noise * rng.standard_normal(light.shape)
    v = np.clip(light, 0.0, 1.0)
    v = np.where(v <= 0.0031308, 12.92 * v, 1.055 * np.power(np.maximum(v, 1e-9), 1 / 2.4) - 0.055)
    v = v + develop.contrast * np.sin(2.0 * math.pi * (v - 0.5)) / 12.0
    if develop.sharpen:
        soft = _blurred(v, Develop(blur=1.2))
        v = v + develop.sharpen * (v - soft)
    return np.clip(v, 0.0, 1.0) * 255.0


def render_grey(scene: Scene, samples: int = 3) -> NDArray[np.uint8]:
    """Draw the photo in grey, in the camera's full size."""
    scene = _with_flash(scene)
    rng = np.random.default_rng(scene.seed)
    grain = _grain(rng)
    develop = scene.develop
    ink = None if scene.card.number is None and scene.card.tags is None else _card_print(scene.card)
    level = develop.exposure / max(_flat_light(scene) * PAPER, 1e-6)
    x0, y0, x1, y1 = _box(scene)
    picture = _ground(scene, grain, rng, level)
    light = np.zeros((y1 - y0, x1 - x0))
    for row in range(0, y1 - y0, 128):
        high = min(128, y1 - y0 - row)
        part = np.zeros((high, x1 - x0))
        for i in range(samples * samples):
            at = (np.array([i % samples, i // samples]) + 0.5) / samples - 0.5
            jitter = (rng.random((2, high, x1 - x0)) - 0.5) / samples
            u = np.arange(x0, x1)[None, :] + at[0] + jitter[0]
            v = np.arange(y0 + row, y0 + row + high)[:, None] + at[1] + jitter[1]
            part += _radiance(scene, u, v, grain, ink)
        light[row : row + high] = part / (samples * samples)
    done = _developed(_blurred(light * level, develop), develop, rng)
    picture[y0:y1, x0:x1] = np.round(done).astype(np.uint8)
    return picture


def _ground(
    scene: Scene, grain: Array, rng: np.random.Generator, level: float
) -> NDArray[np.uint8]:
    """Draw what lies around the card, coarsely: no number is read there."""
    from PIL import Image

    camera, step = scene.camera, 8
    u = np.arange(0, camera.wide, step)[None, :] + np.zeros((-(-camera.high // step), 1))
    v = np.arange(0, camera.high, step)[:, None] + np.zeros((1, u.shape[1]))
    coarse = _radiance(scene, u + step / 2, v + step / 2, grain, None) * level
    quiet = replace(scene.develop, noise=0.0, sharpen=0.0)
    grey = Image.fromarray(np.round(_developed(coarse, quiet, rng)).astype(np.uint8))
    picture = np.array(grey.resize((camera.wide, camera.high), Image.Resampling.BILINEAR))
    tile = np.round(rng.standard_normal((512, 512)) * 400.0 * scene.develop.noise).astype(np.int16)
    across, down = -(-camera.wide // 512), -(-camera.high // 512)
    noisy = picture.astype(np.int16) + np.tile(tile, (down, across))[: camera.high, : camera.wide]
    return np.clip(noisy, 0, 255).astype(np.uint8)


def encode(picture: NDArray[np.uint8], develop: Develop) -> bytes:
    """Save as a JPEG, as a phone does or, with `long_side`, as a messaging app sends it on."""
    from PIL import Image

    image = Image.fromarray(picture).convert("RGB")  # as a phone's, with its colour to decode
    if develop.long_side:
        part = develop.long_side / max(image.size)
        size = (round(image.size[0] * part), round(image.size[1] * part))
        image = image.resize(size, Image.Resampling.LANCZOS)
    out = io.BytesIO()
    image.save(out, "JPEG", quality=develop.quality)
    return out.getvalue()


def render(scene: Scene, samples: int = 3) -> bytes:
    """Draw the photo and give it as JPEG bytes."""
    return encode(render_grey(scene, samples), scene.develop)
