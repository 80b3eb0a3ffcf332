// SPDX-License-Identifier: BSD-3-Clause
// The pages that exist, in the order of the job. A new page is a module and a line here; the server knows all their
// addresses already.
import type { ComponentType } from "preact";
import { AirPage } from "./air";
import { BriefPage } from "./brief";
import { BuildPage } from "./build";
import { ProvePage } from "./prove";
import { RecordPage } from "./record";
import { RingPage } from "./ring";
import { SitePage } from "./site";
import { TunePage } from "./tune";

export interface Page {
  /** Its address, without the slash. */
  key: string;
  label: string;
  /** What the mark in the navigation shows: a path in a square of 24. */
  mark: string;
  component: ComponentType;
  /** Files other than designs may be dropped on it. */
  takesFiles?: true;
  /** Where the job goes on, and for what. */
  next?: { to: string; why: string };
}

export const PAGES: readonly Page[] = [
  {
    key: "brief",
    label: "Brief",
    mark: "M5 3H19V21H5ZM8 8H16M8 12H16M8 16H12",
    component: BriefPage,
  },
  {
    key: "ring",
    label: "Ring",
    mark: "M10 4.2A8 8 0 1 0 14 4.2M10 2v4.6M14 2v4.6M12 14.2a2.4 2.4 0 1 1 0 4.8a2.4 2.4 0 0 1 0-4.8",
    component: RingPage,
    next: { to: "site", why: "how far people must stay away." },
  },
  {
    key: "site",
    label: "Site",
    mark: "M2 20H22M9 20V15M9 15a4.5 4.5 0 1 1 .1 0M17.5 20V14.5M17.5 11.6a1.4 1.4 0 1 1 .1 0M15.5 16.5H19.5",
    component: SitePage,
    next: { to: "build", why: "what to cut and buy, and how it stands." },
  },
  {
    key: "build",
    label: "Build",
    mark: "M4 20L14 10M12.5 8.5l3 3M15 11l4-4-3-3-4 4M4 4l5 5M3 5l2-2M17 15l3 3-2 2-3-3",
    component: BuildPage,
    next: { to: "prove", why: "whether the built ring does what was predicted." },
  },
  {
    key: "prove",
    label: "Prove",
    mark: "M3 3V20H22M6 7H9C11 7 11.4 17 13.2 17S15.5 7 17.5 7H21M10 21.5l3-3",
    component: ProvePage,
    takesFiles: true,
    next: { to: "tune", why: "from the armchair, first on a simulated drive." },
  },
  {
    key: "tune",
    label: "Tune",
    mark: "M4 20V11M4 7V4M12 20V16M12 12V4M20 20V9M20 5V4M2 9h4M10 14h4M18 7h4",
    component: TunePage,
  },
  {
    key: "air",
    label: "Air",
    mark: "M12 3a9 9 0 1 0 .1 0M12 7.5a4.5 4.5 0 1 0 .1 0M12 12l6.4-6.4M3 12H6M12 21V18",
    component: AirPage,
    takesFiles: true,
    next: { to: "record", why: "all that happened to this antenna on one line." },
  },
  {
    key: "record",
    label: "Record",
    mark: "M2 15H22M5 15V9M5 6.6a1.2 1.2 0 1 1 .1 0M11 15V12M11 9.6a1.2 1.2 0 1 1 .1 0M18 15V6M18 3.6a1.2 1.2 0 1 1 .1 0M8 15v3M15 15v3",
    component: RecordPage,
  },
];
