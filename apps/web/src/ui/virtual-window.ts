export interface VirtualWindow {
  /** The first row to draw, counted from 0. */
  readonly first: number;
  /** One past the last row to draw. */
  readonly end: number;
  /** Height in CSS pixels of what stands above the first and below the last drawn row. */
  readonly before: number;
  readonly after: number;
}

export interface WindowRequest {
  /** Height of each row in CSS pixels: measured where it has been drawn, else estimated. */
  readonly heights: readonly number[];
  /** The visible stretch, in CSS pixels from the top of the list. */
  readonly top: number;
  readonly bottom: number;
  /** Rows drawn beyond either edge, so that the Tab key and quick scrolling find something. */
  readonly spare: number;
}

/** Which rows of a long list to draw. Heights before and after always add up with the drawn ones to the whole list. */
export function findWindow({ heights, top, bottom, spare }: WindowRequest): VirtualWindow {
  let offset = 0;
  let first = heights.length;
  let end = heights.length;
  for (let index = 0; index < heights.length; index += 1) {
    const height = heights[index] ?? 0;
    if (first === heights.length && offset + height > top) first = index;
    if (offset >= bottom) {
      end = index;
      break;
    }
    offset += height;
  }
  const start = Math.max(0, Math.min(first, heights.length) - spare);
  const stop = Math.min(heights.length, Math.max(end, start) + spare);
  return { first: start, end: stop, before: sum(heights, 0, start), after: sum(heights, stop, heights.length) };
}

function sum(heights: readonly number[], from: number, to: number): number {
  let total = 0;
  for (let index = from; index < to; index += 1) total += heights[index] ?? 0;
  return total;
}
