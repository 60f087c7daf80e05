import type { PlaceNode } from '@corewright/contracts/places';

/** A line of the tree: a place that can be seen, how deep it stands, whether what stands in it shows. */
export interface TreeRow {
  readonly place: PlaceNode;
  readonly depth: number;
  readonly isOpen: boolean;
}

/** What stands in a place, as far as it has been fetched; null: at the top. */
export type Level = (within: string | null) => readonly PlaceNode[] | undefined;

/** The lines that show, from the top down: each place, then, where it is open, what stands in it. Kit trays stand with their jobs. */
export function treeRows(level: Level, open: ReadonlySet<string>, within: string | null = null, depth = 0): TreeRow[] {
  const rows: TreeRow[] = [];
  for (const place of level(within) ?? []) {
    if (place.kind === 'tray') continue;
    const isOpen = place.placesBelow > 0 && open.has(place.id);
    rows.push({ place, depth, isOpen });
    if (isOpen) rows.push(...treeRows(level, open, place.id, depth + 1));
  }
  return rows;
}
