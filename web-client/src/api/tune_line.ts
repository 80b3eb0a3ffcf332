// SPDX-License-Identifier: BSD-3-Clause
// The tuner's own socket. It opens itself again; the page is then the same viewer as before. While it is open the page
// gives its sign every second, and STOP finds its way without it, too.
import type { TuneAsked, TuneSaid } from "./messages";

export interface TuneEvents {
  message(message: TuneSaid): void;
  connected(isConnected: boolean): void;
}

const FIRST_PAUSE = 250;
const LONGEST_PAUSE = 2000;
export const SIGN_EVERY = 1000;

export class TuneLine {
  private socket: WebSocket | null = null;
  private pause = FIRST_PAUSE;
  private key: string | null = null;
  private hasDrive = false;

  constructor(
    private readonly events: TuneEvents,
    private readonly name: string,
    private readonly connect: () => WebSocket = openSocket,
    private readonly later: (action: () => void, pause: number) => unknown = (action, pause) => setTimeout(action, pause),
    every: (action: () => void, pause: number) => unknown = (action, pause) => setInterval(action, pause),
  ) {
    this.open();
    every(() => this.hasDrive && this.send({ type: "tune_sign" }), SIGN_EVERY);
  }

  send(asked: TuneAsked): boolean {
    if (this.socket?.readyState !== 1) return false; // WebSocket.OPEN
    this.socket.send(JSON.stringify(asked));
    return true;
  }

  private open(): void {
    const socket = this.connect();
    this.socket = socket;
    socket.onopen = () => {
      this.pause = FIRST_PAUSE;
      this.events.connected(true);
      this.send({ type: "tune_hello", name: this.name, key: this.key });
    };
    socket.onmessage = (event: MessageEvent<string>) => {
      const message = JSON.parse(event.data) as TuneSaid;
      if (message.type === "drive") this.key = message.key;
      if (message.type === "drive" || message.type === "no_drive") this.hasDrive = message.type === "drive";
      this.events.message(message);
    };
    socket.onclose = () => {
      this.socket = null;
      this.events.connected(false);
      this.later(() => this.open(), this.pause);
      this.pause = Math.min(this.pause * 2, LONGEST_PAUSE);
    };
  }
}

function openSocket(): WebSocket {
  const scheme = location.protocol === "https:" ? "wss" : "ws";
  return new WebSocket(`${scheme}://${location.host}/api/v1/tune`);
}
