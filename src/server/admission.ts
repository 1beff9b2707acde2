/**
 * Who may speak to the server: pages that it served itself, from this machine, that know the token of this start.
 *
 * Another page in the same browser can send requests to a loopback address. It cannot set the host name of ours (a name that was bent to
 * 127.0.0.1 shows), sends its own origin, and does not know the token, which stands in the fragment of the address and so is never
 * sent to anyone by itself. Main test: server.test.ts.
 */
import { timingSafeEqual } from "node:crypto";

export interface Admission {
  /** Host names with port under which the server is known. */
  readonly hosts: readonly string[];
  readonly token: string;
}

export interface Caller {
  readonly host: string | undefined;
  readonly origin: string | undefined;
  readonly authorization: string | undefined;
  /** What the browser says of who asks: header sec-fetch-site. */
  readonly site: string | undefined;
}

/** Why a request is turned away, with the code of HTTP; undefined where it may come in. */
export function turnAway(
  caller: Caller,
  at: Admission & { readonly needsToken: boolean },
): { code: 401 | 403 | 421; reason: string } | undefined {
  if (caller.host === undefined || !at.hosts.includes(caller.host))
    return { code: 421, reason: "This server answers on its loopback address alone." };
  if (caller.origin !== undefined && !at.hosts.some((host) => caller.origin === `http://${host}`))
    return { code: 403, reason: "Another page may not speak to this server." };
  if (at.needsToken && caller.site !== undefined && caller.site !== "same-origin")
    return { code: 403, reason: "Another page may not speak to this server." };
  if (at.needsToken && !isSame(caller.authorization ?? "", `Bearer ${at.token}`))
    return {
      code: 401,
      reason: "The token of this start is missing or another one. Open the address that the terminal printed.",
    };
  return undefined;
}

/** Compares in a time that tells nothing of where they differ. */
function isSame(given: string, wanted: string): boolean {
  const [a, b] = [Buffer.from(given), Buffer.from(wanted)];
  return a.length === b.length && timingSafeEqual(a, b);
}
