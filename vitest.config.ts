import { defineConfig } from "vitest/config";

const fullCampaigns = process.env.CAMPAIGN === "full";

export default defineConfig({
  test: {
    include: ["{src,test,tools}/**/*.{test,campaign}.ts"],
    testTimeout: fullCampaigns ? 3_600_000 : 30_000,
    hookTimeout: 60_000,
    // what a browser or a disk does is waited for, however busy the machine
    expect: { poll: { timeout: 20_000 } },
    coverage: { provider: "v8", include: ["src/**/*.ts"], exclude: ["src/**/*.{test,campaign,table}.ts"] },
  },
});
