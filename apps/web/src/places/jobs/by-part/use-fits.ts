import { useCallback, useSyncExternalStore } from 'react';

/** Whether the window is so wide, in CSS pixels. */
export function useFits(width: number): boolean {
  const query = Number.isFinite(width) ? `(min-width: ${width}px)` : 'not all';
  const subscribe = useCallback(
    (onChange: () => void) => {
      const list = window.matchMedia(query);
      list.addEventListener('change', onChange);
      return () => list.removeEventListener('change', onChange);
    },
    [query],
  );
  return useSyncExternalStore(subscribe, () => window.matchMedia(query).matches);
}
