/** What could be traded: one sensible step of each size, or a limit that asks for less; each can be tried, then adopted or put back. */
import { formatQuantity } from "#base";
import {
  inHundred,
  type Relaxation,
  relaxationWords,
  sensitivityTable,
  type Trade,
  type TradedLimit,
  type Trades,
  tradeWords,
} from "#chip";
import type { Rail } from "#workbench";
import { choices, trades } from "../../state/size.ts";
import { answer, heldDigits, hold, keepHeld, letGo, writeValue } from "../../state/workbench.ts";
import { downloadFile } from "../save-words.tsx";

/** Arrows are no letters of the page's fonts. */
const plain = (words: string): string => words.replaceAll(" → ", " to ");

/** The number of the text after a trade; steps are round there. */
function digitsAfter({ key, to }: Trade): { readonly key: string; readonly digits: string } | undefined {
  const choice = choices.value.find(({ handle }) => handle.key === key);
  return choice === undefined ? undefined : { key, digits: String(Number(((to - choice.zero) / choice.perUnit).toPrecision(6))) };
}

function TradeLine({ found, trade }: { readonly found: Trades; readonly trade: Trade }) {
  const words = tradeWords(found, trade);
  const after = digitsAfter(trade);
  const isTried = after !== undefined && heldDigits(after.key) === after.digits;
  const told = [
    words.gives.length === 0 ? "" : `Gives ${words.gives.join("; ")}.`,
    words.costs.length === 0 ? "" : `Costs ${words.costs.join("; ")}.`,
  ].filter((part) => part !== "");
  return (
    <li>
      <div>
        <h3>{plain(words.step)}</h3>
        <p>{told.length === 0 ? "No margin moves by more than 1 %." : plain(told.join(" "))}</p>
      </div>
      <span class="trade-chance">{inHundred(trade.chance)}</span>
      <span class="trade-words">
        {isTried ? (
          <>
            <button type="button" class="button solid" onClick={() => void keepHeld()}>
              Adopt
            </button>
            <button type="button" class="link" onClick={letGo}>
              Put back
            </button>
          </>
        ) : (
          <button
            type="button"
            class="button"
            disabled={after === undefined}
            aria-label={`Try ${plain(words.step)}`}
            onClick={() => {
              if (after !== undefined) hold(after);
            }}
          >
            Try
          </button>
        )}
      </span>
    </li>
  );
}

const railOf = ({ place }: TradedLimit): Rail | undefined =>
  answer.value?.rails.find(({ requirement, limitIndex }) => requirement === place[0] && limitIndex === place[1]);

/** The limit as it would be written. */
function easedNeed({ limits }: Trades, { limit, kind, from, to }: Relaxation): string {
  const { need, dimension } = limits[limit]!;
  const words = (value: number): string => formatQuantity(value, dimension, { like: from });
  const [low, high] = [kind === "at least" ? to : need.low, kind === "at most" ? to : need.high];
  if (low !== undefined && high !== undefined) return `between ${words(low)} and ${words(high)}`;
  return `${kind} ${words(to)}`;
}

function RelaxationLine({ found, relaxation }: { readonly found: Trades; readonly relaxation: Relaxation }) {
  const path = railOf(found.limits[relaxation.limit]!)?.need?.path;
  const words = relaxationWords(found, relaxation);
  return (
    <li>
      <div>
        <h3>{words}</h3>
        <p>The brief keeps its reason.</p>
      </div>
      <span class="trade-chance">{inHundred(relaxation.chance)}</span>
      <button
        type="button"
        class="button"
        disabled={path === undefined}
        aria-label={`Ask for less: ${words}`}
        onClick={() => {
          if (path !== undefined) void writeValue(path, easedNeed(found, relaxation));
        }}
      >
        Adopt
      </button>
    </li>
  );
}

export function TradeList() {
  const found = trades.value;
  if (found === undefined) return null;
  return (
    <section class="trades" aria-label="What you could trade">
      <header>
        <h2>What you could trade</h2>
        <button
          type="button"
          class="link"
          aria-label="Save how every metric answers to every size"
          onClick={() => downloadFile("sensitivity.csv", new Blob([sensitivityTable(found)], { type: "text/csv" }))}
        >
          save sensitivities
        </button>
      </header>
      <p class="quiet">As it stands, all limits hold in {inHundred(found.chance)}. After one step:</p>
      <ul>
        {found.trades.map((trade) => (
          <TradeLine key={`${trade.key} ${trade.to}`} found={found} trade={trade} />
        ))}
      </ul>
      {found.relaxations.length === 0 ? null : (
        <>
          <h2>Or ask for less</h2>
          <ul>
            {found.relaxations.slice(0, 5).map((relaxation) => (
              <RelaxationLine key={`${relaxation.limit} ${relaxation.kind}`} found={found} relaxation={relaxation} />
            ))}
          </ul>
        </>
      )}
    </section>
  );
}
