// SPDX-License-Identifier: BSD-3-Clause
// The watt bar: one bar for a band, its whole length the accepted power, a segment for each address, the sky first.
import { useRef } from "preact/hooks";
import type { Band } from "../api/messages";
import { inDecibels } from "../quantities";
import { ADDRESSES, type AddressName } from "../words";

interface Segment {
  name: AddressName;
  letter: string;
  words: string;
  share: number;
}

/** The addresses that were computed, in order, with their share of the accepted power [%]. */
export function segments(band: Band): Segment[] {
  return ADDRESSES.flatMap((address) => {
    const share = band.watts_pct[address.name];
    return share === null ? [] : [{ ...address, share }];
  });
}

interface Props {
  band: Band;
  label: string;
  chosen: AddressName | null;
  choose: (name: AddressName | null) => void;
}

/** One stop for Tab; the arrow keys go from address to address. */
export function WattBar({ band, label, chosen, choose }: Props) {
  const bar = useRef<HTMLDivElement>(null);
  const parts = segments(band);
  const onKeyDown = (event: KeyboardEvent) => {
    const step = { ArrowRight: 1, ArrowLeft: -1 }[event.key];
    const buttons = [...(bar.current?.querySelectorAll("button") ?? [])];
    const next = step && buttons[buttons.indexOf(document.activeElement as HTMLButtonElement) + step];
    if (!next) return;
    event.preventDefault();
    next.focus();
  };
  return (
    <div class="watt-bar" role="toolbar" aria-label={label} ref={bar} onKeyDown={onKeyDown}>
      {parts.map(({ name, letter, words, share }, index) => (
        <button
          key={name}
          type="button"
          class={`segment ink-${name}`}
          style={{ flexGrow: String(Math.max(share, 0)) }}
          aria-pressed={chosen === name}
          aria-label={`${words}, ${share.toFixed(1)} per cent`}
          title={`${words} ${share.toFixed(1)} %, ${inDecibels(share)}`}
          tabIndex={name === chosen || (chosen === null && index === 0) ? 0 : -1}
          onClick={() => choose(chosen === name ? null : name)}
        >
          <span class="segment-name">{share >= 14 ? words : share >= 3 ? letter : ""}</span>
        </button>
      ))}
    </div>
  );
}

/** A pinned variant's bar under the band's own. */
export function GhostBar({ band, letter }: { band: Band; letter: string }) {
  return (
    <div class={`ghost-bar pin-${letter}`} role="img" aria-label={`variant ${letter}: ${inWords(band)}`}>
      <span class="ghost-letter">{letter}</span>
      <PlainBar band={band} />
    </div>
  );
}

/** Thin, with nothing to press. */
export function PlainBar({ band }: { band: Band }) {
  return (
    <span class="plain-bar">
      {segments(band).map(({ name, share }) => (
        <span key={name} class={`segment ink-${name}`} style={{ flexGrow: String(Math.max(share, 0)) }} />
      ))}
    </span>
  );
}

function inWords(band: Band): string {
  return segments(band)
    .map(({ words, share }) => `${words} ${share.toFixed(1)} per cent`)
    .join(", ");
}
