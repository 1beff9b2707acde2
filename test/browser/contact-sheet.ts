/**
 * Pictures of the page: every view in every mode and size on one sheet to look at (out/contact-sheet), and the first picture of the
 * README (docs/pictures/page.png). Run it with `npm run pictures`.
 */
import { mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { type Bench, openBench, root, untilAtRest } from "./page-harness.ts";
import { views } from "./views.ts";

const modes = ["paper", "night", "amber"] as const;
const sizes = [
  { name: "desk", width: 1440, height: 900 },
  { name: "tablet", width: 1180, height: 820 },
  { name: "phone", width: 390, height: 844 },
] as const;
const folder = join(root, "out", "contact-sheet");

async function takeAll(bench: Bench): Promise<readonly string[]> {
  const names: string[] = [];
  for (const { name: size, width, height } of sizes) {
    for (const mode of modes) {
      const { page } = await bench.open({ mode, width, height });
      await untilAtRest(page);
      for (const view of views) {
        await page.evaluate((word) => {
          location.hash = word;
        }, view);
        await page.waitForTimeout(200);
        const name = `${view}-${mode}-${size}.png`;
        await page.screenshot({ path: join(folder, name) });
        names.push(name);
      }
      await page.evaluate(() => {
        location.hash = "predict";
      });
      await page.getByRole("button", { name: "what it does" }).click();
      await untilAtRest(page);
      const name = `curves-${mode}-${size}.png`;
      await page.screenshot({ path: join(folder, name) });
      names.push(name);
      await page.close();
      console.log(`${names.length} pictures, ${size} in ${mode}`);
    }
  }
  return names;
}

async function takeFirst(bench: Bench): Promise<void> {
  const { page } = await bench.open();
  await untilAtRest(page);
  await page.screenshot({ path: join(root, "docs", "pictures", "page.png") });
  await page.close();
}

mkdirSync(folder, { recursive: true });
const bench = await openBench();
await takeFirst(bench);
if (!process.argv.includes("--first")) {
  const names = await takeAll(bench);
  const images = names.map((name) => `<figure><img src="${name}" width="460" alt=""><figcaption>${name}</figcaption></figure>`);
  writeFileSync(
    join(folder, "index.html"),
    `<!doctype html><meta charset="utf-8"><title>Contact sheet</title>${images.join("\n")}`,
  );
  console.log(`Open ${join("out", "contact-sheet", "index.html")}`);
}
await bench.close();
