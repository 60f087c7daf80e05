import { type ReactNode, useCallback, useEffect, useLayoutEffect, useRef, useState } from 'react';
import styles from './VirtualList.module.css';
import { findWindow } from './virtual-window.js';

export interface VirtualListProps<Item> {
  readonly label: string;
  readonly items: readonly Item[];
  readonly itemKey: (item: Item) => string;
  readonly children: (item: Item, index: number) => ReactNode;
  /** A guess at a row's height in CSS pixels; each is measured once drawn. */
  readonly estimate: number;
}

/** A list of thousands that scrolls with the page and draws only what is near the window. On paper it draws all. */
export function VirtualList<Item>({ label, items, itemKey, children, estimate }: VirtualListProps<Item>) {
  const listRef = useRef<HTMLOListElement>(null);
  const measured = useRef(new Map<string, number>());
  const view = useView(listRef);
  const [, setMeasure] = useState(0);
  const heights = items.map((item) => measured.current.get(itemKey(item)) ?? estimate);
  const drawn =
    view === 'all'
      ? { first: 0, end: items.length, before: 0, after: 0 }
      : findWindow({ heights, top: view.top, bottom: view.bottom, spare: 6 });

  useLayoutEffect(() => {
    let changed = false;
    for (const row of listRef.current?.children ?? []) {
      const key = row instanceof HTMLElement ? row.dataset.key : undefined;
      const height = row.getBoundingClientRect().height;
      if (key === undefined || height === 0 || Math.abs((measured.current.get(key) ?? -1) - height) < 1) continue;
      measured.current.set(key, height);
      changed = true;
    }
    if (changed) setMeasure((count) => count + 1);
  });

  return (
    <ol ref={listRef} className={styles.list} aria-label={label} style={{ paddingTop: drawn.before, paddingBottom: drawn.after }}>
      {items.slice(drawn.first, drawn.end).map((item, offset) => (
        <li key={itemKey(item)} data-key={itemKey(item)} aria-setsize={items.length} aria-posinset={drawn.first + offset + 1}>
          {children(item, drawn.first + offset)}
        </li>
      ))}
    </ol>
  );
}

type View = { readonly top: number; readonly bottom: number } | 'all';

/** The stretch of the list that the window shows, in CSS pixels from the list's top. */
function useView(listRef: { readonly current: HTMLElement | null }): View {
  const [view, setView] = useState<View>({ top: 0, bottom: 1600 });
  const look = useCallback(() => {
    const top = listRef.current?.getBoundingClientRect().top ?? 0;
    setView((before) => {
      const now = { top: Math.max(0, -top), bottom: Math.max(0, -top + window.innerHeight) };
      return before !== 'all' && before.top === now.top && before.bottom === now.bottom ? before : now;
    });
  }, [listRef]);
  useEffect(() => {
    const beforePrint = () => setView('all');
    look();
    window.addEventListener('scroll', look, { passive: true });
    window.addEventListener('resize', look);
    window.addEventListener('beforeprint', beforePrint);
    window.addEventListener('afterprint', look);
    return () => {
      window.removeEventListener('scroll', look);
      window.removeEventListener('resize', look);
      window.removeEventListener('beforeprint', beforePrint);
      window.removeEventListener('afterprint', look);
    };
  }, [look]);
  return view;
}
