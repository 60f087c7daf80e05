import { newKey } from './uuid.js';

const leaseMilliseconds = 10_000;
const me = newKey();
const mine = new Map<string, Promise<void>>();

/**
 * Runs `work` while no other tab of this browser runs work of that name. By the Web Locks API; on plain HTTP, which lacks it,
 * by a lease.
 */
export async function alone(name: string, work: () => Promise<void>): Promise<void> {
  const lock = `corewright-${name}`;
  if ('locks' in navigator) {
    await navigator.locks.request(lock, work);
    return;
  }
  // within this tab one after the other, between tabs by the lease
  const turn = (mine.get(lock) ?? Promise.resolve()).then(() => underLease(lock, work));
  mine.set(
    lock,
    turn.catch(() => undefined),
  );
  await turn;
}

type Lease = { readonly holder: string; readonly until: number };

function readLease(shelf: string): Lease | null {
  try {
    const kept = localStorage.getItem(shelf);
    return kept === null ? null : (JSON.parse(kept) as Lease);
  } catch {
    return null;
  }
}

const pause = (milliseconds: number) => new Promise<void>((done) => setTimeout(done, milliseconds));

async function underLease(shelf: string, work: () => Promise<void>): Promise<void> {
  // two tabs may write in the same moment: the last writer has it, and each looks again before it begins.
  // Should both begin all the same, the command's key still makes it happen once.
  for (;;) {
    const held = readLease(shelf);
    if (held === null || held.holder === me || held.until < Date.now()) {
      if (!renew(shelf)) break;
      await pause(60);
      if (readLease(shelf)?.holder === me) break;
    }
    await pause(250);
  }
  const keeping = setInterval(() => renew(shelf), leaseMilliseconds / 3);
  try {
    await work();
  } finally {
    clearInterval(keeping);
    if (readLease(shelf)?.holder === me) drop(shelf);
  }
}

/** False where the browser keeps nothing: then there is no queue to share with a second tab either. */
function renew(shelf: string): boolean {
  try {
    localStorage.setItem(shelf, JSON.stringify({ holder: me, until: Date.now() + leaseMilliseconds }));
    return true;
  } catch {
    return false;
  }
}

function drop(shelf: string): void {
  try {
    localStorage.removeItem(shelf);
  } catch {
    // nothing was kept
  }
}
