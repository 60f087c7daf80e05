import * as z from 'zod';
import { newKey } from '../../../api/uuid.js';

const Line = z.object({
  thingId: z.string(),
  code: z.string(),
  name: z.string(),
  quantity: z.string(),
  price: z.string(),
  letGo: z.string(),
});
export type LineKeyed = z.infer<typeof Line>;

const Draft = z.object({
  /** of the sale that it will be: pressed twice, it is one */
  id: z.string(),
  lines: z.array(Line),
  buyer: z.string(),
  firmId: z.string().nullable(),
  paid: z.string(),
  note: z.string(),
  takeReason: z.string(),
});
export type ReceiptDraft = z.infer<typeof Draft>;

const shelf = 'corewright.receipt';

export function emptyReceipt(): ReceiptDraft {
  return { id: newKey(), lines: [], buyer: '', firmId: null, paid: '', note: '', takeReason: '' };
}

/** What was keyed and not sold yet, on this device until the browser is closed. */
export function recallReceipt(): ReceiptDraft {
  try {
    const parsed = Draft.safeParse(JSON.parse(sessionStorage.getItem(shelf) ?? ''));
    return parsed.success ? parsed.data : emptyReceipt();
  } catch {
    return emptyReceipt();
  }
}

export function keepReceipt(draft: ReceiptDraft): void {
  try {
    sessionStorage.setItem(shelf, JSON.stringify(draft));
  } catch {
    // nothing can be kept here: what is keyed lives as long as the screen
  }
}

/** One more of a thing: a further line, or one more on the line that it has. */
export function withThing(draft: ReceiptDraft, thing: Pick<LineKeyed, 'thingId' | 'code' | 'name'>): ReceiptDraft {
  const there = draft.lines.find(({ thingId }) => thingId === thing.thingId);
  if (there === undefined) return { ...draft, lines: [...draft.lines, { ...thing, quantity: '1', price: '', letGo: '' }] };
  return withLine(draft, thing.thingId, { quantity: oneMore(there.quantity) });
}

export function withLine(draft: ReceiptDraft, id: string, more: Partial<LineKeyed>): ReceiptDraft {
  return { ...draft, lines: draft.lines.map((line) => (line.thingId === id ? { ...line, ...more } : line)) };
}

export function withoutLine(draft: ReceiptDraft, id: string): ReceiptDraft {
  return { ...draft, lines: draft.lines.filter(({ thingId }) => thingId !== id) };
}

function oneMore(quantity: string): string {
  return /^\d{1,9}$/.test(quantity) ? String(Number(quantity) + 1) : quantity;
}

/** Whether it can be asked about; what is half keyed waits. */
export function isQuantity(text: string): boolean {
  return /^\d{1,10}(\.\d{1,4})?$/.test(text) && Number(text) > 0;
}
