import { newKey } from './uuid.js';

const lockName = 'corewright-queue-sender';
const leaseShelf = 'corewright.sender';
const leaseMilliseconds = 10_000;
const me = newKey();
let mine: Promise<void> = Promise.resolve();

/** Runs `work` while no other tab of this browser does. By the Web Locks API; on plain HTTP, which lacks it, by a lease. */
export async function alone(work: () => Promise<void>): Promise<void> {
  if ('locks' in navigator) {
    await navigator.locks.request(lockName, work);
    return;
  }
  // within this tab one after the other, between tabs by the lease
  const turn = mine.then(() => underLease(work));
  mine = turn.catch(() => undefined);
  await turn;
}

type Lease = { readonly holder: string; readonly until: number };

function readLease(): Lease | null {
  try {
    const kept = localStorage.getItem(leaseShelf);
    return kept === null ? null : (JSON.parse(kept) as Lease);
  } catch {
    return null;
  }
}

const pause = (milliseconds: number) => new Promise<void>((done) => setTimeout(done, milliseconds));

async function underLease(work: () => Promise<void>): Promise<void> {
  // two tabs may write in the same moment: the last writer has it, and each looks again before it begins.
  // Should both begin all the same, the command's key still makes it happen once.
  for (;;) {
    const held = readLease();
    if (held === null || held.holder === me || held.until < Date.now()) {
      if (!renew()) break;
      await pause(60);
      if (readLease()?.holder === me) break;
    }
    await pause(250);
  }
  const keeping = setInterval(renew, leaseMilliseconds / 3);
  try {
    await work();
  } finally {
    clearInterval(keeping);
    if (readLease()?.holder === me) drop();
  }
}

/** False where the browser keeps nothing: then there is no queue to share with a second tab either. */
function renew(): boolean {
  try {
    localStorage.setItem(leaseShelf, JSON.stringify({ holder: me, until: Date.now() + leaseMilliseconds }));
    return true;
  } catch {
    return false;
  }
}

function drop(): void {
  try {
    localStorage.removeItem(leaseShelf);
  } catch {
    // nothing was kept
  }
}
