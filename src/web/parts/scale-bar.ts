/** The bar below a picture: the longest round length that fits. Main test: scale-bar.test.ts. */

/** Longest bar, [px]. */
const longest = 90;

export function barOf(zoom: number): { readonly pixels: number; readonly text: string } {
  const most = longest / zoom;
  const power = 10 ** Math.floor(Math.log10(most) + 1e-9);
  const metres = [5, 2, 1].map((factor) => factor * power).find((length) => length <= most * (1 + 1e-9)) ?? power;
  const shown = (value: number): string => String(Number(value.toPrecision(3)));
  const text =
    metres >= 0.9999e-3
      ? `${shown(metres * 1e3)} mm`
      : metres >= 0.9999e-6
        ? `${shown(metres * 1e6)} µm`
        : `${shown(metres * 1e9)} nm`;
  return { pixels: metres * zoom, text };
}

export const temperatureText = (kelvin: number): string => kelvin.toFixed(0);
