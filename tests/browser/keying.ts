/** A person at the keyboard: no mouse, and nothing that a keyboard cannot do. */
import type { Locator, Page } from 'playwright-core';
import { eventually, pressTabs } from './scene.js';

/** What the field with the focus is called. */
export function focusedName(page: Page): Promise<string> {
  return page.evaluate(() => {
    const element = document.activeElement;
    if (!(element instanceof HTMLElement)) return '';
    return element.getAttribute('aria-label') ?? element.textContent;
  });
}

/** Goes on with Tab until it is there. @throws Error when it cannot be reached that way */
export async function tabTo(page: Page, target: Locator, stepsMax = 150): Promise<void> {
  for (let step = 0; step <= stepsMax; step += 1) {
    if (await target.evaluate((element) => element === document.activeElement || element.contains(document.activeElement)))
      return;
    await page.keyboard.press('Tab');
  }
  throw new Error(`Tab does not come to ${String(target)} within ${stepsMax} steps.`);
}

/** Runs in the page: from when it has the focus, Tab does not take that away. Gives what ends it. */
function holdFocus(target: Element): () => void {
  const stay = (event: KeyboardEvent): void => {
    if (event.key !== 'Tab' || !target.contains(document.activeElement)) return;
    event.preventDefault();
    event.stopImmediatePropagation();
  };
  window.addEventListener('keydown', stay, true);
  return () => window.removeEventListener('keydown', stay, true);
}

const tabsAtOnce = 10;

/**
 * As {@link tabTo}, on a screen that is at rest: many Tabs go off before it is looked whether they came there.
 * @throws Error when it cannot be reached that way
 */
export async function tabFarTo(page: Page, target: Locator, stepsMax: number): Promise<void> {
  for (let step = 0; step <= stepsMax; step += tabsAtOnce) {
    const release = await target.evaluateHandle(holdFocus);
    await pressTabs(page, tabsAtOnce);
    const isThere = await target.evaluate((element, end) => {
      end();
      return element.contains(document.activeElement);
    }, release);
    if (isThere) return;
  }
  throw new Error(`Tab does not come to ${String(target)} within ${stepsMax} steps.`);
}

/** Goes there with Tab and presses it. */
export async function pressByKey(page: Page, target: Locator, stepsMax?: number): Promise<void> {
  await target.waitFor();
  await tabTo(page, target, stepsMax);
  await page.keyboard.press('Enter');
}

export type RowKind = 'u' | 'l' | 'x';

/** What is keyed into a row: the names of its cells, in the order in which Tab comes to them. */
export interface KeyedRow {
  kind: RowKind;
  cells: Record<string, string>;
}

const cellsOfKind: Record<RowKind, readonly string[]> = {
  u: ['type', 'what it is', 'grade', 'marks', 'place', 'owner', 'note'],
  l: ['part number, or name', 'what it is', 'count', 'condition', 'marks', 'source', 'make', 'packet date', 'place', 'packet'],
  x: ['what it is', 'count', 'place', 'note'],
};

/** Keys the row in hand, whose first cell has the focus, as far as it has something to say; the row is not yet sent. */
export async function keyCells(page: Page, row: KeyedRow): Promise<void> {
  await eventually(async () => expect(await focusedName(page)).toMatch(/^kind/));
  await page.keyboard.press(row.kind);
  const left = Object.keys(row.cells);
  for (const cell of cellsOfKind[row.kind]) {
    await eventually(async () => expect(await focusedName(page)).toBe(cell));
    if (row.cells[cell] !== undefined) await page.keyboard.type(row.cells[cell]);
    if (left.at(-1) === cell) return;
    await page.keyboard.press('Tab');
  }
}

/** Keys the row in hand and sends it with Enter, which puts the next one in hand. */
export async function keyRow(page: Page, row: KeyedRow): Promise<void> {
  await keyCells(page, row);
  await page.keyboard.press('Enter');
}

/** Keys words of a place's way into its field, and chooses the first that is offered. */
export async function choosePlace(page: Page, label: string, words: string): Promise<void> {
  const field = page.getByRole('combobox', { name: label, exact: true });
  await field.fill(words);
  await page.getByRole('listbox', { name: 'What it may be' }).getByRole('option').first().waitFor();
  await field.press('ArrowDown');
  await field.press('Enter');
}

/** Goes to a field with Tab and keys a text over what stands in it. */
export async function keyInto(page: Page, label: string, text: string): Promise<void> {
  await tabTo(page, page.getByLabel(label, { exact: true }));
  await page.keyboard.press('Control+a');
  await page.keyboard.type(text);
}
