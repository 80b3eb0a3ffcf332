# SPDX-License-Identifier: BSD-3-Clause
"""Keep-out distances as a dated page for the station file: one HTML document that needs nothing else."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime
from html import escape

from ringwright.antenna.design import Design, Earth
from ringwright.safety.cautions import CAUTIONS
from ringwright.safety.exposure import average_power
from ringwright.safety.keepout import ADVISED_POWER, BandKeepOut, LimitRow, PersonRow
from ringwright.safety.keepout_words import set_by_metal
from ringwright.sheet.site_drawing import SiteDrawing, draw, legend

_STYLE = """
body{font:11pt/1.45 "Source Sans 3","Segoe UI",system-ui,sans-serif;color:#222;max-width:62rem}
body{margin:2rem auto;padding:0 1rem}
h1{font-size:1.5rem;margin-bottom:.2rem}h2{font-size:1.15rem;margin-top:2rem;border-bottom:1px solid #999}
table{border-collapse:collapse;width:100%;font-variant-numeric:tabular-nums;margin:.6rem 0}
th,td{padding:.15rem .5rem;text-align:right;border-bottom:1px solid #ddd}th{font-weight:600;vertical-align:bottom}
th:first-child,td:first-child,.word{text-align:left;white-space:nowrap}td.advised{font-weight:700}td.doubtful{color:#777}
.cautions{border:2px solid #b87333;padding:.4rem 1rem;margin:1rem 0}.cautions p{margin:.3rem 0}
.facts{width:auto}.facts td{text-align:left;border:0;overflow-wrap:anywhere}.small{font-size:.88em;color:#444}
.cuts{display:flex;gap:2rem;flex-wrap:wrap}.cuts figure{margin:0;flex:1 1 300px}.cuts svg{width:100%;height:auto}
figcaption{font-size:.88em}svg text{font-size:9px;fill:#222}.metal{fill:none;stroke:#222;stroke-width:1.6}
.earth{stroke:#7a5c3a;stroke-width:2}.scale{fill:none;stroke:#222}.passes{fill:#222}
.fails{fill:none;stroke:#222;stroke-width:2}
.legend{list-style:none;padding:0;margin:.3rem 0}.ink{width:2.6rem;height:.6rem}
.sign{margin-top:2.5rem;display:flex;gap:3rem}.sign div{border-top:1px solid #222;padding-top:.2rem;min-width:14rem}
@media print{body{margin:0;max-width:none}h2,figure,table{break-inside:avoid}}
"""


_HEAD = """<!doctype html>
<html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width,initial-scale=1">
<title>{title}</title><style>{style}</style></head><body><h1>{title}</h1>"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Provenance:
    """Where a page's figures come from: program, its version, the design file with its SHA-256, and when."""

    version: str
    design_file: str
    digest: str
    written: datetime


def keepout_page(
    design: Design,
    bands: Sequence[tuple[BandKeepOut, Sequence[SiteDrawing]]],
    *,
    provenance: Provenance,
) -> str:
    """The page; `bands` with the cuts to be drawn beside each. All text from the design is escaped."""
    title = f"Keep-out distances: {design.name}"
    parts = [
        _HEAD.format(title=escape(title), style=_STYLE),
        _facts(design, provenance),
        '<div class="cautions">',
        *(f"<p>&#9650; {escape(caution)}</p>" for caution in CAUTIONS),
        "</div>",
    ]
    for found, drawings in bands:
        parts += _band(found, drawings)
    parts += _method(found for found, _ in bands)
    parts.append('<div class="sign"><div>Station, name</div><div>Date, checked by</div></div></body></html>')
    return "\n".join(parts) + "\n"


def _facts(design: Design, provenance: Provenance) -> str:
    site, mode = design.site, design.mode or "full carrier"
    duty = f"mode {mode} ({design.mode_factor:.3g}), on air {100.0 * design.transmit_share:.3g} % of the time"
    rows = (
        ("Written", provenance.written.strftime("%Y-%m-%d %H:%M %Z")),
        ("Design file", f"{provenance.design_file}, SHA-256 {provenance.digest}"),
        ("Program", f"Ringwright {provenance.version}"),
        ("Peak envelope power", f"{design.power:.4g} W"),
        ("Average power", f"{average_power(design):.4g} W: {duty}"),
        ("Lowest point of the ring", f"{site.height:.4g} m"),
        ("Earth", "free space" if site.earth is None else _earth(site.earth)),
        ("Metal nearby", f"in the calculation: {len(site.metal)}" if site.metal else "none described"),
    )
    cells = "".join(f"<tr><td>{escape(name)}</td><td>{escape(value)}</td></tr>" for name, value in rows)
    return f'<table class="facts">{cells}</table>'


def _earth(earth: Earth) -> str:
    if earth.perfect:
        return earth.name
    return (
        f"{earth.name}: {earth.conductivity * 1e3:.4g} mS/m, relative permittivity {earth.permittivity:.4g}"
    )


def _band(found: BandKeepOut, drawings: Sequence[SiteDrawing]) -> Iterator[str]:
    name = f"{found.band}, " if found.band else ""
    yield f"<h2>{escape(name)}{found.frequency / 1e6:.6g} MHz</h2>"
    yield (
        '<table><thead><tr><th>Limit</th><th class="word">for</th><th>keep away</th><th>limit reached at most</th>'
        "<th>along the axis</th><th>in the plane</th><th>above</th><th>below</th>"
        '<th class="word">set by</th><th>far-field formula, not valid here</th></tr></thead><tbody>'
    )
    yield from (_limit(row) for row in found.by_limit)
    yield (
        '</tbody></table><p class="small">All in metres from the ring\'s centre. Set by the electric (E) or the '
        "magnetic field (H).</p>"
    )
    yield from (f'<p class="small">{escape(text)}</p>' for text in set_by_metal(found, "m"))
    if found.people:
        yield (
            '<table><thead><tr><th>Person</th><th class="word">kind</th><th class="word">limit</th><th>margin</th>'
            "<th>unfavourable</th>"
            '<th class="word">result</th><th>limit reached at</th></tr></thead><tbody>'
        )
        yield from (_person(row) for row in found.people)
        yield "</tbody></table>"
    if drawings:
        yield '<div class="cuts">'
        for each in drawings:
            yield f"<figure>{draw(each)}<figcaption>{escape(each.title)}</figcaption></figure>"
        yield f"</div>{legend(label for label, _ in drawings[0].zones)}"


def _limit(row: LimitRow) -> str:
    by = {"e": "E", "h": "H", None: "none"}[row.governed_by]
    formula = "" if row.far_field_formula is None else f"{row.far_field_formula:.2f}"
    lengths = (
        row.distance_max,
        row.distance_axis,
        row.distance_plane,
        row.distance_above,
        row.distance_below,
    )
    return (
        f'<tr><td>{escape(row.limit.name)}</td><td class="word">{row.limit.tier.value}</td>'
        f'<td class="advised">{row.distance_advised:.1f}</td>'
        + "".join(f"<td>{length:.2f}</td>" for length in lengths)
        + f'<td class="word">{by}</td><td class="doubtful">{formula}</td></tr>'
    )


def _person(row: PersonRow) -> str:
    result = "passes" if row.passes else "EXCEEDS"
    return (
        f'<tr><td>{escape(row.name)}</td><td class="word">{row.kind.value}</td>'
        f'<td class="word">{escape(row.limit.name)}, {row.limit.tier.value}</td><td>{row.margin_db:+.1f} dB</td>'
        f"<td>{row.margin_unfavourable_db:+.1f} dB</td>"
        f'<td class="word">{result}</td><td>{_watts(row.power_allowed_unfavourable)}</td></tr>'
    )


def _watts(value: float) -> str:
    return f"{value:.3g} W" if value < 1e3 else f"{value / 1e3:.3g} kW"


def _method(bands: Iterable[BandKeepOut]) -> Iterator[str]:
    limits = {row.limit for found in bands for row in found.by_limit}
    yield "<h2>How this was found</h2>"
    yield (
        "<p>Electric and magnetic near fields of the currents of a full-wave thin-wire solution, over the earth and "
        "beside the metal stated above; root mean square of the whole vector, E and H apart, the larger distance "
        "counting. Averaged limits see the average power, instantaneous ones the peak envelope power. Each "
        "distance is "
        f"that of the last point over the limit; &quot;keep away&quot; is that of {ADVISED_POWER:g} times the power "
        "(3 dB) at the unfavourable end of the stated tolerances, rounded up to a tenth of a metre. People pass or "
        "exceed by that end. Where a limit may be averaged over the body the largest value was "
        "taken.</p><ul>"
    )
    for limit in sorted(limits, key=lambda each: (each.name, each.tier)):
        averaged = (
            "instantaneous"
            if limit.averaging_minutes is None
            else f"averaged over {limit.averaging_minutes:g} min"
        )
        yield f"<li>{escape(limit.name)}, {limit.tier.value}: {escape(limit.source)}; {averaged}</li>"
    yield "</ul>"
