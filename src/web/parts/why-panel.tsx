/** Why a number of the ledger is what it is: the hops to it, what moved it from as drawn to as built, and what to change. */
import { useSignal } from "@preact/signals";
import { useEffect } from "preact/hooks";
import type { Rail, WhyWords } from "#workbench";
import { askAside, isHolding, text, write } from "../state/workbench.ts";
import { useSize } from "./use-size.ts";

/** Height of the arcs and of their ground line, [px]. */
const arcs = { height: 64, ground: 52, margin: 12 } as const;

/** The way from as drawn to as built, an arc for each cause; told in the table below it. */
function Arcs({ movers }: { readonly movers: WhyWords["movers"] }) {
  const { size, element } = useSize<HTMLDivElement>();
  const ends = [0, 1, ...movers.flatMap(({ part }) => part)].filter(Number.isFinite);
  const [low, high] = [Math.min(...ends), Math.max(...ends)];
  const width = Math.max(1, size.value.width - 2 * arcs.margin);
  const place = (part: number): number => arcs.margin + ((part - low) / (high - low)) * width;
  return (
    <div ref={element} class="arcs" aria-hidden="true">
      <svg width={size.value.width} height={arcs.height} aria-hidden="true">
        <path d={`M0 ${arcs.ground}H${size.value.width}`} class="rail-line" />
        {movers
          .filter(({ part }) => part.every(Number.isFinite))
          .map(({ name, part: [from, to] }) => {
            const [x0, x1] = [place(from), place(to)];
            const rise = Math.min(arcs.ground - 6, 12 + Math.abs(x1 - x0) / 4);
            return (
              <path
                key={name}
                class="arc"
                d={`M${x0} ${arcs.ground}Q${(x0 + x1) / 2} ${arcs.ground - 2 * rise} ${x1} ${arcs.ground}`}
              />
            );
          })}
        <circle cx={place(0)} cy={arcs.ground} r="5" class="as-drawn" />
        <circle cx={place(1)} cy={arcs.ground} r="5.5" class="as-built" />
      </svg>
    </div>
  );
}

function Hops({ words }: { readonly words: WhyWords }) {
  return (
    <table class="hops">
      <caption class="aside-words">From what drives it to {words.subject}</caption>
      <thead>
        <tr>
          <th scope="col">
            <span class="aside-words">number</span>
          </th>
          <th scope="col">as drawn</th>
          <th scope="col">as built</th>
          <th scope="col">
            <span class="aside-words">from</span>
          </th>
        </tr>
      </thead>
      <tbody>
        {words.hops.map(({ word, drawn, built, by }) => (
          <tr key={word}>
            <th scope="row">{word}</th>
            <td>{drawn}</td>
            <td>{built}</td>
            <td class="quiet">{by}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function Movers({ words }: { readonly words: WhyWords }) {
  if (words.movers.length === 0) return <p>Nothing moves it from as drawn to as built.</p>;
  return (
    <>
      <Arcs movers={words.movers} />
      <table class="hops">
        <caption class="aside-words">What moves it from as drawn to as built</caption>
        <thead>
          <tr>
            <th scope="col">what moves it</th>
            <th scope="col">as drawn</th>
            <th scope="col">as built</th>
            <th scope="col">alone</th>
            <th scope="col">so far</th>
            <th scope="col">
              <span class="aside-words">evidence</span>
            </th>
          </tr>
        </thead>
        <tbody>
          {words.movers.map(({ name, from, to, alone, after, source }) => (
            <tr key={name}>
              <th scope="row">{name}</th>
              <td>{from}</td>
              <td>{to}</td>
              <td>{alone}</td>
              <td>{after}</td>
              <td class="quiet">{source}</td>
            </tr>
          ))}
        </tbody>
      </table>
      {words.together === "" ? null : <p>{words.together}</p>}
    </>
  );
}

function Changes({ words }: { readonly words: WhyWords }) {
  if (words.aim === undefined) return null;
  if (words.changes.length === 0)
    return (
      <p>No drawn size and no drive of the case alone brings it to {words.aim} without being more than doubled or halved.</p>
    );
  return (
    <>
      <p>To bring it to {words.aim} as built, change one of these:</p>
      <ul class="why-changes">
        {words.changes.map(({ key, name, from, to, reached, digits }) => (
          <li key={key}>
            <button type="button" class="button" onClick={() => void write({ kind: "write", held: [{ key, digits }] })}>
              {name} {from} → {to}
            </button>{" "}
            <span class="quiet">gives {reached}</span>
          </li>
        ))}
      </ul>
    </>
  );
}

export function WhyPanel({ rail }: { readonly rail: Rail }) {
  const found = useSignal<WhyWords | string | undefined>(undefined);
  const { requirement, limitIndex } = rail;
  const now = text.value;
  const isStill = !isHolding.value;
  useEffect(() => {
    let isWanted = isStill;
    if (isStill)
      void askAside((question) => ({ kind: "why", question, requirement, limitIndex })).then((reply) => {
        if (!isWanted) return;
        if (reply.kind === "explained") found.value = reply.words;
        else if (reply.kind === "refused") found.value = reply.reason;
      });
    return () => {
      isWanted = false;
    };
  }, [requirement, limitIndex, now, isStill]);
  const words = found.value;
  if (words === undefined) return <p role="status">Working out the way to it</p>;
  if (typeof words === "string") return <p>{words}</p>;
  return (
    <section class="why-panel" aria-label={`Why ${words.subject} is ${words.hops.at(-1)!.built}`}>
      <Hops words={words} />
      <Movers words={words} />
      <Changes words={words} />
    </section>
  );
}
