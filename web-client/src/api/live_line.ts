// SPDX-License-Identifier: BSD-3-Clause
// The live socket. Latest wins: one request is in flight; while it is, only the newest draft is remembered and sent
// when the answer comes. The same for pictures of the site, whose answer is their first part; later parts come when
// they are ready. The line opens itself again, and then asks for what stands.
import type { ClientMessage, MatchRequest, PredictRequest, ProveRequest, SearchRequest, ServerMessage, SiteRequest } from "./messages";

export type Ask = Omit<PredictRequest, "type" | "seq">;
export type Look = Omit<SiteRequest, "type" | "seq">;
export type Seek = Omit<MatchRequest, "type" | "seq">;
export type Prove = Omit<ProveRequest, "type" | "seq">;
export type Choose = Omit<SearchRequest, "type" | "seq">;

export interface LineEvents {
  /** `answered` is the draft that a prediction answers, or the look that a site's first part answers. */
  message(message: ServerMessage, answered: Ask | Look | null): void;
  connected(isConnected: boolean): void;
}

const FIRST_PAUSE = 250;
const LONGEST_PAUSE = 2000;

/** A place for what is wanted; only the newest counts, and one is under way at a time. */
class Slot<T> {
  sent: { seq: number; wanted: T } | null = null;
  private wanted: T | null = null;
  private isDirty = false;

  want(wanted: T | null): void {
    this.wanted = wanted;
    this.isDirty = wanted !== null;
  }

  /** What to send now, if anything; it is then under way as number `seq`. */
  next(seq: number): T | null {
    if (!this.isDirty || this.sent !== null || this.wanted === null) return null;
    this.isDirty = false;
    this.sent = { seq, wanted: this.wanted };
    return this.wanted;
  }

  /** The line was cut: what was under way is wanted again. */
  reset(): void {
    this.sent = null;
    this.isDirty = this.wanted !== null;
  }
}

/** The messages that answer, and what was sent for them. */
const SLOTS: Partial<Record<ServerMessage["type"], "drafts" | "sites">> = {
  prediction: "drafts",
  problem: "drafts",
  site_scene: "sites",
  site_problem: "sites",
};

export class LiveLine {
  private socket: WebSocket | null = null;
  private seq = 0;
  private readonly drafts = new Slot<Ask>();
  private readonly sites = new Slot<Look>();
  private pause = FIRST_PAUSE;

  constructor(
    private readonly events: LineEvents,
    private readonly connect: () => WebSocket = openSocket,
    private readonly later: (action: () => void, pause: number) => unknown = (action, pause) => setTimeout(action, pause),
  ) {
    this.open();
  }

  /** Wants this draft predicted; whatever was wanted before is forgotten unless it has been sent. */
  ask(wanted: Ask): void {
    this.drafts.want(wanted);
    this.sendIfFree();
  }

  /** Wants this site drawn; null: none any more. */
  look(wanted: Look | null): void {
    this.sites.want(wanted);
    this.sendIfFree();
  }

  /** Has a coupling sought for this draft, in place of a search that runs; not asked again when the line was cut. */
  seek(wanted: Seek): void {
    this.send({ type: "match", seq: ++this.seq, ...wanted });
  }

  /** Ends the search; the best so far is answered. */
  endSearch(): void {
    this.send({ type: "match_stop" });
  }

  /** Has sweeps set against this draft, in place of what is under way; the number that its answers carry. */
  prove(wanted: Prove): number {
    this.send({ type: "prove", seq: ++this.seq, ...wanted });
    return this.seq;
  }

  /** Ends that; what was told of single sweeps holds. */
  endProof(): void {
    this.send({ type: "prove_stop" });
  }

  /** Has rings sought for a brief, in place of a search that runs; not asked again when the line was cut. */
  choose(wanted: Choose): void {
    this.send({ type: "search", seq: ++this.seq, ...wanted });
  }

  /** Ends that; the best so far is answered. */
  endChoice(): void {
    this.send({ type: "search_stop" });
  }

  private open(): void {
    const socket = this.connect();
    this.socket = socket;
    socket.onopen = () => {
      this.pause = FIRST_PAUSE;
      this.drafts.reset();
      this.sites.reset();
      this.events.connected(true);
      this.sendIfFree();
    };
    socket.onmessage = (event: MessageEvent<string>) => this.receive(JSON.parse(event.data) as ServerMessage);
    socket.onclose = () => {
      this.socket = null;
      this.events.connected(false);
      this.later(() => this.open(), this.pause);
      this.pause = Math.min(this.pause * 2, LONGEST_PAUSE);
    };
  }

  private receive(message: ServerMessage): void {
    const slot = SLOTS[message.type];
    const answered = slot === undefined ? null : (this[slot].sent?.wanted ?? null);
    if (slot !== undefined) this[slot].sent = null;
    this.events.message(message, answered);
    this.sendIfFree();
  }

  private sendIfFree(): void {
    if (this.socket?.readyState !== 1) return; // WebSocket.OPEN
    const draft = this.drafts.next(this.seq + 1);
    if (draft) this.send({ type: "predict", seq: ++this.seq, ...draft });
    const site = this.sites.next(this.seq + 1);
    if (site) this.send({ type: "site", seq: ++this.seq, ...site });
  }

  private send(message: ClientMessage): void {
    this.socket?.send(JSON.stringify(message));
  }
}

function openSocket(): WebSocket {
  const scheme = location.protocol === "https:" ? "wss" : "ws";
  return new WebSocket(`${scheme}://${location.host}/api/v1/live`);
}
