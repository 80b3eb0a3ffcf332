// SPDX-License-Identifier: BSD-3-Clause
// Distances, decibels and moments as the page says them.
import { system } from "../../state/preferences";

const MILE = 1609.344;

/** A distance in the person's unit, in three figures. */
export function distance(metres: number): string {
  const [value, unit] = system.value === "imperial" ? [metres / MILE, "mi"] : [metres / 1000, "km"];
  const step = value >= 1000 ? 10 : 1;
  return `${thousands(Math.round(value / step) * step)} ${unit}`;
}

export function decibels(value: number): string {
  return `${value > 0 ? "+" : value < 0 ? "−" : ""}${Math.abs(value).toFixed(1)} dB`;
}

/** The true minus sign before a number. */
export function signed(words: string): string {
  return words.replace(/(?<=^|[\s(])-(?=\d)/g, "−");
}

export function moment(seconds: number): string {
  return `${new Date(seconds * 1000).toISOString().slice(0, 16).replace("T", " ")} UTC`;
}

export function thousands(value: number): string {
  return String(value).replace(/\B(?=(\d{3})+$)/g, " ");
}
