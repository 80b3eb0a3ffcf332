// SPDX-License-Identifier: BSD-3-Clause
// The whole travel as a strip, with the bands where the table has them. A band is tapped to be tuned to.
import { useRef } from "preact/hooks";
import type { TuneBand, TuneDrive } from "../../api/messages";
import { useSize } from "../../widgets/size";

const HEIGHT = 46;
const STRIP = { top: 12, height: 12 };

interface Props {
  drive: TuneDrive;
  position: number | null;
  to: number | null;
  chosen: number | null;
  isDisabled: boolean;
  choose: (band: TuneBand) => void;
}

export function PositionStrip({ drive, position, to, chosen, isDisabled, choose }: Props) {
  const frame = useRef<HTMLDivElement>(null);
  const size = useSize(frame);
  const bands = [...drive.bands].sort((a, b) => a.at_steps - b.at_steps);
  const width = size?.width ?? 0;
  const x = (at: number) => 1 + (Math.min(Math.max(at, 0), drive.last_steps) / drive.last_steps) * (width - 2);
  const chip = (index: number) => ((index + 0.5) / bands.length) * width;
  return (
    <div class="position-strip" ref={frame}>
      {width > 0 && (
        <svg width={width} height={HEIGHT} aria-hidden="true">
          <rect class="travel" x={0.5} y={STRIP.top} width={width - 1} height={STRIP.height} />
          {bands.map((band, index) => (
            <g key={band.name}>
              <path class="lead" d={`M${x(band.at_steps)} ${STRIP.top + STRIP.height}V${STRIP.top + STRIP.height + 5}L${chip(index)} ${HEIGHT}`} />
              <rect
                class="band-place"
                x={Math.min(x(band.from_steps), x(band.at_steps) - 1.5)}
                y={STRIP.top}
                width={Math.max(x(band.to_steps) - x(band.from_steps), 3)}
                height={STRIP.height}
              />
            </g>
          ))}
          {to !== null && <path class="goal" d={`M${x(to)} ${STRIP.top - 3}v${STRIP.height + 6}`} />}
          {position !== null && <path class="needle" d={`M${x(position)} ${STRIP.top + 3}l-7 -13h14Z`} />}
        </svg>
      )}
      <div class="band-chips" role="group" aria-label="Bands: tune to the middle of one">
        {bands.map((band) => {
          const isChosen = chosen !== null && chosen >= band.low_hz && chosen <= band.high_hz;
          return (
            <button key={band.name} type="button" disabled={isDisabled} aria-pressed={isChosen} onClick={() => choose(band)}>
              {band.name}
            </button>
          );
        })}
      </div>
    </div>
  );
}
