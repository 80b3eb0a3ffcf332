// SPDX-License-Identifier: BSD-3-Clause
import type { ComponentChildren } from "preact";
import { useLayoutEffect, useRef } from "preact/hooks";

interface Props {
  title: string;
  close: () => void;
  children: ComponentChildren;
}

/** The browser's own modal dialog: it holds the focus, and Escape closes it. */
export function Modal({ title, close, children }: Props) {
  const dialog = useRef<HTMLDialogElement>(null);
  useLayoutEffect(() => {
    dialog.current?.showModal();
  }, []);
  return (
    <dialog ref={dialog} aria-labelledby="modal-title" onClose={close}>
      <h2 id="modal-title">{title}</h2>
      {children}
    </dialog>
  );
}
