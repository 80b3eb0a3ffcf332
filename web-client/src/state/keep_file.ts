// SPDX-License-Identifier: BSD-3-Clause
// A file handed to the person, as the browser keeps downloads.

export function keepFile(file: Blob, name: string): void {
  const link = document.createElement("a");
  link.href = URL.createObjectURL(file);
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 10_000);
}
