// SPDX-License-Identifier: BSD-3-Clause
// The live socket. Latest wins: one request is in flight; while it is, only the newest draft is remembered and sent
// when the answer comes. The line opens itself again, and then asks for the draft that stands.
import type { ClientMessage, ServerMessage } from "./messages";

export type Ask = Omit<ClientMessage, "type" | "seq">;

export interface LineEvents {
  message(message: ServerMessage): void;
  connected(isConnected: boolean): void;
}

const FIRST_PAUSE = 250;
const LONGEST_PAUSE = 2000;

export class LiveLine {
  private socket: WebSocket | null = null;
  private seq = 0;
  private inFlight: number | null = null;
  private wanted: Ask | null = null;
  private isDirty = false;
  private pause = FIRST_PAUSE;

  constructor(
    private readonly events: LineEvents,
    private readonly connect: () => WebSocket = openSocket,
    private readonly later: (action: () => void, pause: number) => unknown = setTimeout,
  ) {
    this.open();
  }

  /** Wants this draft predicted; whatever was wanted before is forgotten unless it has been sent. */
  ask(wanted: Ask): void {
    this.wanted = wanted;
    this.isDirty = true;
    this.sendIfFree();
  }

  private open(): void {
    const socket = this.connect();
    this.socket = socket;
    socket.onopen = () => {
      this.pause = FIRST_PAUSE;
      this.inFlight = null;
      this.isDirty = this.wanted !== null;
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
    const isAnswer = message.type === "prediction" || message.type === "problem";
    if (isAnswer) this.inFlight = null;
    this.events.message(message);
    if (isAnswer) this.sendIfFree();
  }

  private sendIfFree(): void {
    const isOpen = this.socket?.readyState === 1; // WebSocket.OPEN
    if (!isOpen || !this.isDirty || this.inFlight !== null || this.wanted === null) return;
    this.isDirty = false;
    this.inFlight = ++this.seq;
    const message: ClientMessage = { type: "predict", seq: this.seq, ...this.wanted };
    this.socket?.send(JSON.stringify(message));
  }
}

function openSocket(): WebSocket {
  const scheme = location.protocol === "https:" ? "wss" : "ws";
  return new WebSocket(`${scheme}://${location.host}/api/v1/live`);
}
