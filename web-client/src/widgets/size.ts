// SPDX-License-Identifier: BSD-3-Clause
import { useLayoutEffect, useState } from "preact/hooks";
import type { RefObject } from "preact";

export interface Size {
  width: number;
  height: number;
}

/** The size of an element in pixels, followed as it changes; null before it is known. */
export function useSize(ref: RefObject<Element | null>): Size | null {
  const [size, setSize] = useState<Size | null>(null);
  useLayoutEffect(() => {
    const element = ref.current;
    if (!element) return;
    const measure = () => {
      const { width, height } = element.getBoundingClientRect();
      setSize((old) => (old?.width === width && old.height === height ? old : { width, height }));
    };
    measure();
    const observer = new ResizeObserver(measure);
    observer.observe(element);
    return () => observer.disconnect();
  }, [ref]);
  return size;
}
