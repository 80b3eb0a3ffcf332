// SPDX-License-Identifier: BSD-3-Clause
// What stands round every page: navigation, the design on the bench, preferences, notes.
import * as draft from "../state/draft";
import { dismiss, notes, say } from "../state/notes";
import { type Page as PageOfTheJob, PAGES } from "../pages";
import { useDrop } from "../widgets/drop";
import { Explanation } from "../widgets/explanation";
import { PageLink } from "../widgets/page_link";
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
          <PageLink key={key} to={key} isCurrent={key === page?.key}>
            <svg viewBox="0 0 24 24" aria-hidden="true">
              <path d={mark} />
            </svg>
            {label}
          </PageLink>
        ))}
      </nav>
      <main id="main" tabIndex={-1} data-settled={draft.isSettled}>
        <h1 class="out-of-sight">{page?.label}</h1>
        <Notes />
        {Page && <Page />}
        {page?.next && <NextStep {...page.next} />}
        {page && !page.takesFiles && <DesignDrop />}
      </main>
      <StopBar />
      <Explanation />
      <NameDialog />
      <ConflictDialog />
    </>
  );
}

function NextStep({ to, why }: NonNullable<PageOfTheJob["next"]>) {
  return (
    <p class="next-step quiet">
      Next: <PageLink to={to}>{PAGES.find((one) => one.key === to)?.label}</PageLink>, {why}
    </p>
  );
}

/** Pages that read no files of their own still take designs. */
function DesignDrop() {
  const isOver = useDrop(() => say("Here only design files (.toml) are read; sweeps go on the page Prove, reports on the page Air."));
  if (!isOver) return null;
  return (
    <div class="drop-here" aria-hidden="true">
      <p>Let go: the design is opened here.</p>
    </div>
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
