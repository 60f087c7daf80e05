import { useState } from 'react';

/** What was keyed about a stopped scan, by command and choice, as long as the page lives: the next scan takes the panel away. */
const drafts = new Map<string, unknown>();

/** State that a form finds again when its panel comes back. */
export function useDraft<Keyed>(name: string, initial: Keyed | (() => Keyed)): readonly [Keyed, (keyed: Keyed) => void] {
  const [keyed, setKeyed] = useState<Keyed>(drafts.has(name) ? (drafts.get(name) as Keyed) : initial);
  const keep = (next: Keyed) => {
    drafts.set(name, next);
    setKeyed(next);
  };
  return [keyed, keep];
}
