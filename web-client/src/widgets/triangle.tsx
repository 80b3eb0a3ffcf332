// SPDX-License-Identifier: BSD-3-Clause

/** The plain triangle of a caution. */
export function Triangle() {
  return (
    <svg class="triangle" viewBox="0 0 10 9" role="img" aria-label="Caution:">
      <path d="M5 0 10 9H0Z" />
    </svg>
  );
}
