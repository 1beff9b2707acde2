/** Saves a picture as SVG, as PNG, and what it shows as CSV; every picture and plot has these three words. */
import { news } from "../state/workbench.ts";

export interface Saved {
  /** Name of the files without their ending. */
  readonly name: string;
  readonly what: string;
  readonly svg: () => Promise<string> | string;
  readonly csv: () => string;
}

/** Pixels of the PNG for one of the picture. */
const density = 2;

/** Hands a file to whoever looks at the page. */
export function downloadFile(name: string, blob: Blob): void {
  const link = document.createElement("a");
  link.href = URL.createObjectURL(blob);
  link.download = name;
  link.click();
  // the download has begun by then
  setTimeout(() => URL.revokeObjectURL(link.href), 10_000);
}

async function pngOf(svg: string): Promise<Blob> {
  const image = new Image();
  image.src = URL.createObjectURL(new Blob([svg], { type: "image/svg+xml" }));
  await image.decode();
  const canvas = document.createElement("canvas");
  [canvas.width, canvas.height] = [image.naturalWidth * density, image.naturalHeight * density];
  canvas.getContext("2d", { colorSpace: "srgb" })!.drawImage(image, 0, 0, canvas.width, canvas.height);
  URL.revokeObjectURL(image.src);
  const blob = await new Promise<Blob | null>((resolve) => canvas.toBlob(resolve, "image/png"));
  if (blob === null) throw new Error("Cannot make the PNG: the browser gave none. Save the SVG.");
  return blob;
}

export function SaveWords({ name, what, svg, csv }: Saved) {
  const attempt = async (work: () => Promise<void>): Promise<void> => {
    try {
      await work();
    } catch (error) {
      news.value = error instanceof Error ? error.message : String(error);
    }
  };
  const forms = [
    ["SVG", async () => downloadFile(`${name}.svg`, new Blob([await svg()], { type: "image/svg+xml" }))],
    ["PNG", async () => downloadFile(`${name}.png`, await pngOf(await svg()))],
    ["data", async () => downloadFile(`${name}.csv`, new Blob([csv()], { type: "text/csv" }))],
  ] as const;
  return (
    <span class="save-words">
      <span class="quiet">save</span>
      {forms.map(([word, work]) => (
        <button key={word} type="button" class="link" aria-label={`Save ${what} as ${word}`} onClick={() => void attempt(work)}>
          {word}
        </button>
      ))}
    </span>
  );
}
