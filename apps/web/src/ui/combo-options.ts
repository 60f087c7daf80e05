import { useEffect, useState } from 'react';

export interface ComboOption {
  /** What is stored when it is chosen. */
  readonly id: string;
  /** What then stands in the field. */
  readonly label: string;
  /** A second line: what tells it from the others. */
  readonly note?: string;
  /** What the thing is called, where the label is a number. */
  readonly name?: string;
  /** Its number alone, where the label says more. */
  readonly number?: string;
  /** Another name that it was found by: another maker's number. */
  readonly also?: string;
}

export interface ComboFound {
  readonly options: readonly ComboOption[];
  /** there are more than are offered */
  readonly hasMore: boolean;
}

/** Finds all options for what has been keyed so far. */
export type ListSource = (typed: string, signal: AbortSignal) => Promise<readonly ComboOption[]>;

/** Finds options for what has been keyed so far; the signal ends a search that nobody waits for any more. */
export type ComboSource = (typed: string, signal: AbortSignal) => Promise<readonly ComboOption[] | ComboFound>;

export type ComboSearch =
  | { readonly state: 'idle' }
  | { readonly state: 'looking'; readonly options: readonly ComboOption[] }
  | ({ readonly state: 'found' } & ComboFound)
  | { readonly state: 'failed' };

/** How long the keys must rest before a search goes out, in milliseconds. */
const REST_MS = 120;

/** Looks options up while the list is open. Only the last search counts, however the answers arrive. */
export function useComboSearch(source: ComboSource, typed: string, isOpen: boolean): ComboSearch {
  const [search, setSearch] = useState<ComboSearch>({ state: 'idle' });
  useEffect(() => {
    if (!isOpen) return setSearch({ state: 'idle' });
    const abort = new AbortController();
    setSearch((before) => ({
      state: 'looking',
      options: before.state === 'found' || before.state === 'looking' ? before.options : [],
    }));
    const timer = setTimeout(() => {
      source(typed, abort.signal).then(
        (found) => {
          if (!abort.signal.aborted)
            setSearch({ state: 'found', ...('options' in found ? found : { options: found, hasMore: false }) });
        },
        () => {
          if (!abort.signal.aborted) setSearch({ state: 'failed' });
        },
      );
    }, REST_MS);
    return () => {
      clearTimeout(timer);
      abort.abort();
    };
  }, [source, typed, isOpen]);
  return search;
}
