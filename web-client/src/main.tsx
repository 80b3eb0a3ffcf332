// SPDX-License-Identifier: BSD-3-Clause
import { render } from "preact";
import { Frame } from "./frame/frame";
import { PAGES } from "./pages";
import { begin } from "./state/bench";
import * as tune from "./state/tune";
import "./styles/tokens.css";
import "./styles/base.css";
import "./styles/frame.css";
import "./styles/bench.css";
import "./styles/panels.css";
import "./styles/watt_bar.css";
import "./styles/drawing.css";
import "./styles/dialogs.css";
import "./styles/site_drawing.css";
import "./styles/site.css";
import "./styles/build.css";
import "./styles/prove.css";
import "./styles/tune.css";
import "./styles/air.css";
import "./styles/record.css";
import "./styles/brief.css";
import "./styles/print.css";

const page = document.getElementById("page");
if (page) render(<Frame />, page);
tune.begin();
// One who names no page comes in at the ring, the first thing that lives; the brief stands before it in the order of the job.
void begin(["ring", ...PAGES.map((one) => one.key).filter((key) => key !== "ring")]);
