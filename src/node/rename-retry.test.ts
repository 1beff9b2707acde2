import { describe, expect, it } from "vitest";
import { renameWithPatience } from "./rename-retry.ts";

/** A rename that is refused `nRefusals` times with `code`; counts calls and waiting time. */
function createStubbornRename(nRefusals: number, code: string) {
  const seen = { calls: 0, waited: 0 };
  const means = {
    rename: async () => {
      seen.calls++;
      if (seen.calls <= nRefusals) throw Object.assign(new Error(code), { code });
    },
    wait: async (time: number) => {
      seen.waited += time;
    },
  };
  return { seen, means };
}

describe("renameWithPatience", () => {
  it.each(["EPERM", "EACCES", "EBUSY"])("waits while %s passes", async (code) => {
    const { seen, means } = createStubbornRename(3, code);
    await renameWithPatience("a", "b", { ...means, mayPass: true });
    expect(seen).toEqual({ calls: 4, waited: 70 });
  });

  it("gives up after nine refusals", async () => {
    const { seen, means } = createStubbornRename(99, "EBUSY");
    await expect(renameWithPatience("a", "b", { ...means, mayPass: true })).rejects.toThrow("EBUSY");
    expect(seen).toEqual({ calls: 9, waited: 2550 });
  });

  it.each([
    ["another refusal", "ENOSPC", true],
    ["a refusal that will not pass", "EACCES", false],
  ])("does not wait after %s", async (_, code, mayPass) => {
    const { seen, means } = createStubbornRename(1, code);
    await expect(renameWithPatience("a", "b", { ...means, mayPass })).rejects.toThrow(code);
    expect(seen).toEqual({ calls: 1, waited: 0 });
  });
});
