// SPDX-License-Identifier: BSD-3-Clause
// Files dropped on a page.
import { useEffect, useState } from "preact/hooks";
import { openFiles } from "../state/opening";

/** Files may be dropped anywhere on the page; whether some are held over it. A design is opened, whatever the page;
 * `take`, the first render's, has the others. */
export function useDrop(take: (files: File[]) => void): boolean {
  const [isOver, setOver] = useState(false);
  useEffect(() => {
    const hasFiles = (event: DragEvent) => event.dataTransfer?.types.includes("Files") ?? false;
    const over = (event: DragEvent) => {
      if (!hasFiles(event)) return;
      event.preventDefault();
      setOver(true);
    };
    const leave = (event: DragEvent) => {
      if (event.relatedTarget === null) setOver(false);
    };
    const drop = (event: DragEvent) => {
      if (!hasFiles(event)) return;
      event.preventDefault();
      setOver(false);
      const files = [...(event.dataTransfer?.files ?? [])];
      void openFiles(files.filter(isDesign));
      const others = files.filter((file) => !isDesign(file));
      if (others.length > 0) take(others);
    };
    addEventListener("dragover", over);
    addEventListener("dragleave", leave);
    addEventListener("drop", drop);
    return () => {
      removeEventListener("dragover", over);
      removeEventListener("dragleave", leave);
      removeEventListener("drop", drop);
    };
  }, []);
  return isOver;
}

function isDesign(file: File): boolean {
  return file.name.toLowerCase().endsWith(".toml");
}
