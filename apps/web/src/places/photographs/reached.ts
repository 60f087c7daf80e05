import { useSyncExternalStore } from 'react';

/** How far each photograph has been sent from this tab, from 0 to 1: a hint for whoever watches, kept nowhere. */
const reached = new Map<string, number>();
const listeners = new Set<() => void>();

export function sayReached(id: string, share: number): void {
  if (share < 1) reached.set(id, share);
  else reached.delete(id);
  for (const listener of listeners) listener();
}

function subscribe(listener: () => void): () => void {
  listeners.add(listener);
  return () => listeners.delete(listener);
}

/** Null where nothing of it is on the way just now. */
export function useReached(id: string): number | null {
  return useSyncExternalStore(subscribe, () => reached.get(id) ?? null);
}
