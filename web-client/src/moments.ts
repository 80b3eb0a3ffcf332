// SPDX-License-Identifier: BSD-3-Clause
// Moments as people read them, in this browser's own time, and round moments for an axis.
import type { Span } from "./widgets/plot_scale";

const MONTHS = ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"];
const HOUR = 3600;
const DAY = 24 * HOUR;
const HOURS = [1, 3, 6, 12];
const DAYS = [1, 2, 5, 10];
const MONTH_STEPS = [1, 2, 3, 6];

const two = (number: number) => String(number).padStart(2, "0");

/** Seconds since 1970 of a moment's text. */
export function secondsOf(text: string): number {
  return Date.parse(text) / 1000;
}

/** A moment's text, in UTC with whole seconds. */
export function momentOf(seconds: number): string {
  return `${new Date(Math.round(seconds) * 1000).toISOString().slice(0, 19)}Z`;
}

/** 2026-05-01 18:30, as the command line writes it. */
export function shownMoment(seconds: number): string {
  const at = new Date(seconds * 1000);
  return `${shownDay(seconds)} ${two(at.getHours())}:${two(at.getMinutes())}`;
}

export function shownDay(seconds: number): string {
  const at = new Date(seconds * 1000);
  return `${at.getFullYear()}-${two(at.getMonth() + 1)}-${two(at.getDate())}`;
}

/** What a browser's field for a moment holds, in local time, as a moment's text; null where it is empty. */
export function typedMoment(value: string): string | null {
  const at = Date.parse(value); // without a zone it is local
  return Number.isNaN(at) ? null : momentOf(at / 1000);
}

export interface TimeTick {
  at: number;
  label: string;
}

/** Round moments inside a span, at most so many. */
export function timeTicks({ low, high }: Span, most: number): TimeTick[] {
  const wide = (high - low) / most;
  const hours = HOURS.find((one) => one * HOUR >= wide);
  if (hours) return stepped(low, high, (at, index) => new Date(at.getFullYear(), at.getMonth(), at.getDate(), index * hours), hourLabel);
  const days = DAYS.find((one) => one * DAY >= wide);
  if (days) return days === 1 ? daily(low, high) : inMonths(low, high, days);
  const months = MONTH_STEPS.find((one) => one * 30.4 * DAY >= wide);
  if (months) return stepped(low, high, (at, index) => new Date(at.getFullYear(), index * months, 1), monthLabel);
  const years = [1, 2, 5, 10, 20, 50].find((one) => one * 365 * DAY >= wide) ?? 100;
  return stepped(low, high, (at, index) => new Date(Math.floor(at.getFullYear() / years) * years + index * years, 0, 1), (at) => String(at.getFullYear()));
}

/** From the beginning of the year, month or day that a span begins in, step by step until it ends. */
function stepped(low: number, high: number, step: (begin: Date, index: number) => Date, label: (at: Date) => string): TimeTick[] {
  const begin = new Date(low * 1000);
  const found: TimeTick[] = [];
  for (let index = 0; ; index++) {
    const at = step(begin, index);
    const seconds = at.getTime() / 1000;
    if (seconds > high) return found;
    if (seconds >= low) found.push({ at: seconds, label: label(at) });
  }
}

function daily(low: number, high: number): TimeTick[] {
  return stepped(low, high, (at, index) => new Date(at.getFullYear(), at.getMonth(), at.getDate() + index), dayLabel);
}

/** The 1st of each month and every so many days after it, none so near the next 1st that both would be written. */
function inMonths(low: number, high: number, days: number): TimeTick[] {
  return daily(low, high).filter(({ at }) => {
    const day = new Date(at * 1000).getDate();
    return (day - 1) % days === 0 && day + days / 2 <= 31;
  });
}

function hourLabel(at: Date): string {
  return at.getHours() === 0 ? dayLabel(at) : `${two(at.getHours())}:00`;
}

function dayLabel(at: Date): string {
  return at.getDate() === 1 ? monthLabel(at) : `${at.getDate()} ${MONTHS[at.getMonth()]}`;
}

function monthLabel(at: Date): string {
  return at.getMonth() === 0 ? String(at.getFullYear()) : (MONTHS[at.getMonth()] ?? "");
}
