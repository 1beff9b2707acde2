/** Where a design may live over two sizes, what could be traded, and the design itself as a bead. */
import { Problems } from "../parts/problems.tsx";
import { RegionFrame } from "../parts/size/region-frame.tsx";
import { SizeSentence } from "../parts/size/size-sentence.tsx";
import { TradeList } from "../parts/size/trade-list.tsx";
import { summary } from "../state/workbench.ts";

export function SizeView() {
  return (
    <main class="size">
      <div class="size-map">
        <h1>Where {summary.value?.title ?? "the chip"} may live</h1>
        <Problems />
        <RegionFrame />
      </div>
      <div class="column">
        <SizeSentence />
        <TradeList />
      </div>
    </main>
  );
}
