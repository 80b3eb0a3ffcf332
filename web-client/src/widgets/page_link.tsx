// SPDX-License-Identifier: BSD-3-Clause
// A link to another page that takes design, band and pins along, in this window or, as links do, in another one.
import type { ComponentChildren } from "preact";
import { addressOf } from "../state/bench";
import * as draft from "../state/draft";

interface Props {
  to: string;
  isCurrent?: boolean;
  children: ComponentChildren;
}

export function PageLink({ to, isCurrent = false, children }: Props) {
  return (
    <a
      href={addressOf(to)}
      aria-current={isCurrent ? "page" : undefined}
      onClick={(event) => {
        if (event.ctrlKey || event.metaKey || event.shiftKey) return;
        event.preventDefault();
        draft.page.value = to;
      }}
    >
      {children}
    </a>
  );
}
