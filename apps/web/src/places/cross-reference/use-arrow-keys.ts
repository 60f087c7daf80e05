import { type RefObject, useEffect, useRef } from 'react';

/** What the arrow keys go to, one after another: the field, then what was found. */
const stops = 'input, tbody a';

/** Down and up go from the field to what was found and along it, as a hand on the keys of a scanner does. */
export function useArrowKeys(): RefObject<HTMLDivElement | null> {
  const area = useRef<HTMLDivElement>(null);
  useEffect(() => {
    const element = area.current;
    const go = (event: KeyboardEvent) => {
      const step = event.key === 'ArrowDown' ? 1 : event.key === 'ArrowUp' ? -1 : 0;
      const all = [...(element?.querySelectorAll(stops) ?? [])];
      const at = all.indexOf(document.activeElement ?? document.body);
      const next = all[at + step];
      if (step === 0 || at < 0 || !(next instanceof HTMLElement)) return;
      event.preventDefault();
      next.focus();
    };
    element?.addEventListener('keydown', go);
    return () => element?.removeEventListener('keydown', go);
  }, []);
  return area;
}
