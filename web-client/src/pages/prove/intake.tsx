// SPDX-License-Identifier: BSD-3-Clause
// What comes in: files chosen or dropped, readings typed, files of the workspace's folder; and what is on the page.
import { useRef, useState } from "preact/hooks";
import * as keep from "../../state/keep";
import * as prove from "../../state/prove";
import { Triangle } from "../../widgets/triangle";
import { ColumnsOf } from "./columns";
import { KeepForm } from "./keep";

const ENDINGS = ".s1p,.s2p,.ts,.csv,.tsv,.txt,.dat";

export function Intake() {
  return (
    <aside class="intake" id="sweeps-in" aria-label="Sweeps">
      <h2>Sweeps of the built ring</h2>
      <ChooseFiles />
      <Cautions />
      <OnThePage />
      <KeepForm />
      <Readings />
      <Folder />
    </aside>
  );
}

function ChooseFiles() {
  const input = useRef<HTMLInputElement>(null);
  return (
    <>
      <button type="button" class="chief choose-files" onClick={() => input.current?.click()}>
        Choose sweep files…
      </button>
      <input
        ref={input}
        type="file"
        multiple
        hidden
        accept={ENDINGS}
        aria-label="sweep files"
        onChange={({ currentTarget }) => {
          void prove.addFiles([...(currentTarget.files ?? [])]);
          currentTarget.value = ""; // the same file, mended, can be chosen again
        }}
      />
      <p class="small quiet">or drop them anywhere on this page: Touchstone (.s1p, .s2p, .ts) or tables (.csv, .tsv, .txt), one or more of each band.</p>
    </>
  );
}

function Cautions() {
  const cautions = prove.cautions.value;
  if (!cautions) return null;
  return (
    <ul class="cautions small" aria-label="Before you measure">
      {[cautions.analyser, cautions.weather].map((text) => (
        <li key={text} class="caution">
          <Triangle />
          {text}
        </li>
      ))}
    </ul>
  );
}

function OnThePage() {
  const items = prove.items.value;
  if (items.length === 0) return null;
  return (
    <ul class="on-the-page" aria-label="Sweeps on the page">
      {items.map((item) => (
        <li key={`${item.kind} ${item.name}`}>
          <span class="sweep-name">
            {item.name} <span class="quiet small">{standing(item)}</span>
          </span>
          <button type="button" aria-label={`Take off ${item.name}`} onClick={() => prove.remove(item)}>
            Take off
          </button>
          {item.refused && <p class="refusal">{item.refused}</p>}
          <ColumnsOf item={item} />
        </li>
      ))}
    </ul>
  );
}

function standing(item: prove.Item): string {
  if (item.refused) return "not sent";
  const sweep = prove.found.value.get(item);
  if (!sweep) return prove.problem.value ? "" : "reading…";
  return sweep.found ? (sweep.found.band ?? "") : "cannot be used";
}

function Readings() {
  const [text, setText] = useState("");
  const add = () => {
    if (text.trim() === "") return;
    prove.addReadings(text);
    setText("");
  };
  return (
    <div class="readings">
      <label>
        SWR readings of one band, typed
        <textarea class="field" rows={4} maxLength={20_000} spellcheck={false} value={text} aria-describedby="readings-hint" onInput={(event) => setText(event.currentTarget.value)} />
      </label>
      <p id="readings-hint" class="small quiet">
        One a line, frequency with its unit and SWR: 7.050 MHz 1.8. Five or more, three of them well inside the dip.
      </p>
      <button type="button" disabled={text.trim() === ""} onClick={add}>
        Add readings
      </button>
    </div>
  );
}

function Folder() {
  const taken = new Set([...prove.items.value.filter((item) => item.kind === "folder").map((item) => item.name), ...keep.kept.value.map((one) => one.file)]);
  const offered = prove.folder.value.filter((file) => !taken.has(file.name));
  return (
    <div class="sweep-folder">
      <h3>In the workspace&apos;s folder sweeps</h3>
      <p class="small quiet">A new file there comes onto the page by itself while it is open.</p>
      {offered.length > 0 && (
        <ul aria-label="Files in the folder">
          {offered.map(({ name }) => (
            <li key={name}>
              <span class="sweep-name">{name}</span>
              <button type="button" aria-label={`Take ${name}`} onClick={() => prove.take(name)}>
                Take
              </button>
            </li>
          ))}
        </ul>
      )}
    </div>
  );
}
