// SPDX-License-Identifier: BSD-3-Clause
// What stands round every page: navigation, the design on the bench, preferences, notes.
import * as draft from "../state/draft";
import { dismiss, notes } from "../state/notes";
import { PAGES } from "../pages";
import { Explanation } from "../widgets/explanation";
import { ConflictDialog } from "./conflict_dialog";
import { NameDialog } from "./name_dialog";
import { StopBar } from "./stop_bar";
import { TopBar } from "./top_bar";

export function Frame() {
  const page = PAGES.find((one) => one.key === draft.page.value);
  const Page = page?.component;
  return (
    <>
      <a class="skip" href="#main">
        Skip to the page
      </a>
      <TopBar />
      <nav class="pages" aria-label="Pages">
        {PAGES.map(({ key, label, mark }) => (
          <a
            key={key}
            href={`/${key}`}
            aria-current={key === page?.key ? "page" : undefined}
            onClick={(event) => {
              event.preventDefault();
              draft.page.value = key;
            }}
          >
            <svg viewBox="0 0 24 24" aria-hidden="true">
              <path d={mark} />
            </svg>
            {label}
          </a>
        ))}
      </nav>
      <main id="main" tabIndex={-1} data-settled={draft.isSettled}>
        <h1 class="out-of-sight">{page?.label}</h1>
        <Notes />
        {Page && <Page />}
      </main>
      <StopBar />
      <Explanation />
      <NameDialog />
      <ConflictDialog />
    </>
  );
}

function Notes() {
  return (
    <div class="notes" role="log" aria-label="Notes">
      {!draft.isConnected.value && <p class="note-strip offline">The server does not answer. Trying again; what you set here is kept.</p>}
      {notes.value.map(({ id, text }) => (
        <p key={id} class="note-strip">
          {text}
          <button type="button" onClick={() => dismiss(id)}>
            Close
          </button>
        </p>
      ))}
    </div>
  );
}
