import { defineConfig } from "vitest/config";

const fullCampaigns = process.env.CAMPAIGN === "full";
const pureLayers = "{base,numerics,geometry,materials,mask,physics,devices,picture,chip,workbench}";
const pureFolders = [`src/${pureLayers}`, "test/verification"];
const ending = "**/*.{test,campaign}.ts";

/** What every project shares. */
const common = {
  testTimeout: fullCampaigns ? 3_600_000 : 30_000,
  hookTimeout: 60_000,
  // what a browser or a disk does is waited for, however busy the machine
  expect: { poll: { timeout: 20_000 } },
};

export default defineConfig({
  test: {
    projects: [
      {
        // The pure layers keep no state and touch nothing outside, so their files may share one worker: the program is read
        // once and stays compiled, which halves the time of the run.
        test: { ...common, name: "pure", include: pureFolders.map((folder) => `${folder}/${ending}`), isolate: false },
      },
      {
        test: {
          ...common,
          name: "outside",
          include: [`{src,test,tools}/${ending}`],
          exclude: ["**/node_modules/**", ...pureFolders.map((folder) => `${folder}/**`)],
        },
      },
    ],
    coverage: { provider: "v8", include: ["src/**/*.ts"], exclude: ["src/**/*.{test,campaign,table}.ts"] },
  },
});
