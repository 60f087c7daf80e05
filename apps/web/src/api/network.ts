/** Whether the server answers. Told by every request; asked again while it does not. */
export type NetworkState = { readonly up: boolean; readonly since: number };

const askAgainAfterMilliseconds = 5_000;
let state: NetworkState = { up: true, since: Date.now() };
let asking: ReturnType<typeof setTimeout> | null = null;
const listeners = new Set<() => void>();

function become(up: boolean): void {
  if (state.up !== up) {
    state = { up, since: Date.now() };
    for (const listener of listeners) listener();
  }
  if (up && asking !== null) {
    clearTimeout(asking);
    asking = null;
  }
  if (!up && asking === null) asking = setTimeout(ask, askAgainAfterMilliseconds);
}

async function ask(): Promise<void> {
  asking = null;
  try {
    const answer = await fetch('/api/health', { cache: 'no-store', signal: AbortSignal.timeout(4_000) });
    become(answer.status < 500);
  } catch {
    become(false);
  }
}

export const network = {
  get: (): NetworkState => state,
  subscribe(listener: () => void): () => void {
    listeners.add(listener);
    return () => listeners.delete(listener);
  },
  answered: () => become(true),
  silent: () => become(false),
  askNow: () => void ask(),
};

/** The browser's own word is a hint only: it knows the wire, not the server. */
export function watchNetwork(): () => void {
  const lost = () => become(false);
  const back = () => void ask();
  addEventListener('offline', lost);
  addEventListener('online', back);
  return () => {
    removeEventListener('offline', lost);
    removeEventListener('online', back);
  };
}
