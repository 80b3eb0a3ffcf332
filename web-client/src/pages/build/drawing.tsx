// SPDX-License-Identifier: BSD-3-Clause
// A drawing as the server made it, the same that is printed: its inks follow the page's light, its text is escaped there.
import type { DrawingFile } from "../../api/messages";
import { keepDrawing } from "../../state/build";

export function Drawn({ drawing, isLarge = false }: { drawing: DrawingFile; isLarge?: boolean }) {
  return (
    <figure class={isLarge ? "drawn drawn-large" : "drawn"}>
      <div ref={showMiddle} class="drawn-lines" tabIndex={isLarge ? 0 : undefined} role={isLarge ? "group" : undefined} aria-label={isLarge ? `${drawing.title}, may be scrolled` : undefined} dangerouslySetInnerHTML={{ __html: drawing.svg }} />
      <figcaption>
        <span class="quiet small">
          {drawing.title}
          <span class="swipe">; it goes on to both sides: swipe it</span>
        </span>
        <button type="button" onClick={() => keepDrawing(drawing.name, drawing.svg)} aria-label={`Save as SVG: ${drawing.title}`}>
          SVG
        </button>
      </figcaption>
    </figure>
  );
}

/** Where a drawing is wider than the screen its middle comes first: the capacitor and the coupling stand there. */
function showMiddle(box: HTMLDivElement | null): void {
  if (!box) return;
  const hidden = box.scrollWidth - box.clientWidth;
  box.dataset.wide = String(hidden > 1);
  box.scrollLeft = hidden / 2;
}
