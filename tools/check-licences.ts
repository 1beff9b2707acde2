/** Checks that every installed package carries a licence that lets Waferwright be given away under its own. */

import { existsSync, readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { type Problem, runCheck } from "./problem.ts";

const allowed = new Set(
  "MIT MIT-0 ISC BSD-2-Clause BSD-3-Clause Apache-2.0 BSL-1.0 0BSD Unlicense CC0-1.0 BlueOak-1.0.0 Python-2.0 CC-BY-4.0 Zlib OFL-1.1".split(
    " ",
  ),
);
/** Allowed only for packages that are used while developing and never become part of what is given away. */
const allowedForDevelopment = new Set(["MPL-2.0"]);
/** Packages whose licence has no SPDX name, each read by a person. */
const readByPerson = new Map([["dejavu-fonts-ttf", "Bitstream Vera and Arev font licences: free to use, embed and pass on"]]);

interface Manifest {
  readonly name?: string;
  readonly license?: string | { type?: string };
  readonly licenses?: readonly { type?: string }[];
}

interface Lock {
  readonly packages: Readonly<Record<string, { readonly dev?: boolean }>>;
}

/** True when an SPDX expression leaves a choice of licences that are all allowed. "OR" binds weaker than "AND". */
export function isAllowedLicence(expression: string, isDevelopment: boolean): boolean {
  const text = expression.trim();
  const inner = /^\(([^()]*)\)$/.exec(text)?.[1];
  if (inner !== undefined) return isAllowedLicence(inner, isDevelopment);
  const group = /\(([^()]*)\)/.exec(text);
  if (group !== null) {
    const verdict = isAllowedLicence(group[1] ?? "", isDevelopment) ? "MIT" : "none";
    return isAllowedLicence(text.replace(group[0], verdict), isDevelopment);
  }
  return text
    .split(/\s+OR\s+/)
    .some((option) =>
      option.split(/\s+AND\s+/).every((name) => allowed.has(name) || (isDevelopment && allowedForDevelopment.has(name))),
    );
}

function licenceOf(manifest: Manifest): string {
  if (typeof manifest.license === "string") return manifest.license;
  const types = manifest.licenses?.map((licence) => licence.type ?? "none") ?? [manifest.license?.type ?? "none"];
  return types.join(" OR ");
}

/** Folders of all packages below a node_modules folder, as paths from the root. */
function listPackages(root: string, folder: string): string[] {
  if (!existsSync(join(root, folder))) return [];
  return readdirSync(join(root, folder)).flatMap((name) => {
    if (name.startsWith(".")) return [];
    const path = `${folder}/${name}`;
    if (name.startsWith("@")) return listPackages(root, path);
    const nested = listPackages(root, `${path}/node_modules`);
    return existsSync(join(root, path, "package.json")) ? [path, ...nested] : nested;
  });
}

/** Installed packages of `root` with another licence. */
export function checkLicences(root: string): Problem[] {
  const lock = JSON.parse(readFileSync(join(root, "package-lock.json"), "utf8")) as Lock;
  return listPackages(root, "node_modules").flatMap((path) => {
    const file = `${path}/package.json`;
    const manifest = JSON.parse(readFileSync(join(root, file), "utf8")) as Manifest;
    const licence = licenceOf(manifest);
    const isDevelopment = lock.packages[path]?.dev === true;
    if (isAllowedLicence(licence, isDevelopment) || readByPerson.has(manifest.name ?? "")) return [];
    const use = isDevelopment ? "for development" : "in what is given away";
    return [{ file, line: 1, message: `Cannot use ${manifest.name} ${use}: its licence is "${licence}".` }];
  });
}

runCheck(import.meta.url, checkLicences);
