// SPDX-License-Identifier: BSD-3-Clause
// The HTTP API, typed by the server's models. A refusal of the server is thrown as the `Problem` it is.
import type {
  AirAsked,
  AirHeadings,
  AirKept,
  AirNull,
  AirNullAsked,
  AirPictureAsked,
  AirPromiseAsked,
  AirPromised,
  AirSeen,
  AirSlotsAsked,
  BriefStart,
  BuildFound,
  CalibrationKept,
  CalibrationList,
  CalibrationSent,
  Conflict,
  DesignList,
  DesignOnLine,
  DesignText,
  FigureTable,
  MomentsCompared,
  MomentsSent,
  NoteKept,
  NoteSent,
  PredictionMessage,
  Problem,
  ProofTable,
  RecordLine,
  RecordTable,
  Saved,
  SaveRequest,
  SheetAsked,
  SiteTable,
  StartDraft,
  StockList,
  SweepList,
  SweepsKept,
  SweepsSent,
  TakenIn,
  TrendDrawn,
} from "./messages";
import type { Ask } from "./live_line";

/** A prediction, whichever way it came. */
export type Picture = Omit<PredictionMessage, "type" | "seq">;

/** The server said no, or could not be reached (`code` is then `offline`). */
export class Refused extends Error {
  constructor(readonly problem: Problem) {
    super(problem.text);
  }
}

const OFFLINE: Problem = {
  code: "offline",
  key: null,
  text: "The server cannot be reached. Nothing is lost here; try again when it is back.",
};

async function call(path: string, init?: RequestInit): Promise<Response> {
  try {
    return await fetch(`/api/v1/${path}`, init);
  } catch {
    throw new Refused(OFFLINE);
  }
}

async function read<T>(response: Response, ...good: number[]): Promise<T> {
  const body: unknown = await response.json();
  if (response.ok || good.includes(response.status)) return body as T;
  throw new Refused(body as Problem);
}

function sending(method: string, body: unknown): RequestInit {
  return { method, headers: { "Content-Type": "application/json" }, body: JSON.stringify(body) };
}

const designPath = (name: string) => `designs/${encodeURIComponent(name)}`;

export const getStart = async () => read<StartDraft>(await call("start"));
export const getFigures = async () => read<FigureTable>(await call("figures"));
export const getSite = async () => read<SiteTable>(await call("site"));
export const getProof = async () => read<ProofTable>(await call("proof"));
export const getStock = async () => read<StockList>(await call("stock"));
export const getBrief = async () => read<BriefStart>(await call("brief"));
export const getSweeps = async () => read<SweepList>(await call("sweeps"));
export const getDesigns = async () => read<DesignList>(await call("designs"));
export const getDesign = async (name: string) => read<DesignText>(await call(designPath(name)));
export const postPredict = async (body: Ask) =>
  read<Picture>(await call("predict", sending("POST", body)));
export const putDesign = async (name: string, request: SaveRequest) =>
  read<Saved | Conflict>(await call(designPath(name), sending("PUT", request)), 409);

async function done(response: Response): Promise<void> {
  if (!response.ok) throw new Refused((await response.json()) as Problem);
}

export const postAirNull = async (body: AirNullAsked) => read<AirNull>(await call("air/null", sending("POST", body)));
export const postAirPromise = async (body: AirPromiseAsked) => read<AirPromised>(await call("air/promise", sending("POST", body)));
export const postAirKeep = async (locator: string) => read<AirKept>(await call(`air/keep?locator=${encodeURIComponent(locator)}`, { method: "POST" }));
/** What the columns of a table are called; nothing is laid on the table. */
export const postAirHeadings = async (file: File) =>
  read<AirHeadings>(await call(`air/headings?name=${encodeURIComponent(file.name)}`, { method: "POST", headers: { "Content-Type": "application/octet-stream" }, body: file }));
export const postAirPicture = async (body: AirPictureAsked) => file(await call("air/map", sending("POST", body)));
export const postAirSlots = async (body: AirSlotsAsked) => file(await call("air/slots", sending("POST", body)));
export const postAirLook = async (body: AirAsked) => read<AirSeen>(await call("air/look", sending("POST", body)));
export const postReports = async (file: File, columns: readonly string[]) => {
  const query = new URLSearchParams([["name", file.name], ...columns.map((column) => ["column", column])]);
  return done(await call(`air/reports?${query}`, { method: "POST", headers: { "Content-Type": "application/octet-stream" }, body: file }));
};
export const deleteReports = async (name: string) => done(await call(`air/reports?name=${encodeURIComponent(name)}`, { method: "DELETE" }));

export const getCalibrations = async () => read<CalibrationList>(await call("calibrations"));
export const postCalibration = async (body: CalibrationSent) => read<CalibrationKept>(await call("calibrations", sending("POST", body)));

/** Where the export of the record is fetched from; a link, so that the browser keeps it as a file. */
export const ARCHIVE = "/api/v1/record/archive";
export const getRecord = async () => read<RecordLine>(await call("record"));
export const getRecordTable = async () => read<RecordTable>(await call("record/table"));
export const getTextOnLine = async (sha256: string) => read<DesignOnLine>(await call(`record/designs/${sha256}`));
export const getTrend = async (band: string) => read<TrendDrawn>(await call(`record/trend?band=${encodeURIComponent(band)}`));
export const postCompare = async (body: MomentsSent) => read<MomentsCompared>(await call("record/compare", sending("POST", body)));
export const postNote = async (body: NoteSent) => read<NoteKept>(await call("record/notes", sending("POST", body)));
export const postSweeps = async (body: SweepsSent) => read<SweepsKept>(await call("record/sweeps", sending("POST", body)));
export const postArchive = async (archive: File, isTrial: boolean) =>
  read<TakenIn>(await call(`record/archive${isTrial ? "?trial=true" : ""}`, { method: "POST", headers: { "Content-Type": "application/zip" }, body: archive }));

export const getBuild = async () => read<FigureTable>(await call("build"));
export const postBuild = async (body: Omit<SheetAsked, "paper" | "contents">) => read<BuildFound>(await call("build", sending("POST", body)));
/** A PDF, under the name that the server gives it. */
export async function postSheet(body: SheetAsked): Promise<{ name: string; file: Blob }> {
  return file(await call("build/sheet", sending("POST", body)));
}

/** A file, under the name that the server gives it. */
async function file(response: Response): Promise<{ name: string; file: Blob }> {
  if (!response.ok) throw new Refused((await response.json()) as Problem);
  const name = /filename="([^"]+)"/.exec(response.headers.get("Content-Disposition") ?? "")?.[1] ?? "file";
  return { name, file: await response.blob() };
}
