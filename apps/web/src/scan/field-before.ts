/** A field as it was, so that what a scanner typed into it can be taken out again. */

type Field = HTMLInputElement | HTMLTextAreaElement | HTMLSelectElement;
export type FieldBefore = {
  readonly field: Field;
  readonly value: string;
  readonly from: number | null;
  readonly to: number | null;
};

/** Null for what holds no text. */
export function remember(element: Element | null): FieldBefore | null {
  if (element instanceof HTMLSelectElement) return { field: element, value: element.value, from: null, to: null };
  if (element instanceof HTMLInputElement || element instanceof HTMLTextAreaElement) {
    // fields for dates and numbers have no caret: theirs is null
    return { field: element, value: element.value, from: element.selectionStart, to: element.selectionEnd };
  }
  return null;
}

/** Gives the field its value and caret back and tells the page so, as if a person had done it. */
export function putBack(before: FieldBefore): void {
  const { field, value, from, to } = before;
  if (!field.isConnected) return;
  if (field.value !== value) {
    setValue(field, value);
    field.dispatchEvent(new Event(field instanceof HTMLSelectElement ? 'change' : 'input', { bubbles: true }));
  }
  if (!(field instanceof HTMLSelectElement) && from !== null && to !== null) field.setSelectionRange(from, to);
}

/** Past the page's own wrapper of the value, which would otherwise hide the change from it. */
function setValue(field: Field, value: string): void {
  const prototype = Object.getPrototypeOf(field) as object;
  const setter = Object.getOwnPropertyDescriptor(prototype, 'value')?.set;
  if (setter === undefined) field.value = value;
  else setter.call(field, value);
}

/** What a soft keyboard has put where the caret stood. */
export function softlyInserted(before: FieldBefore): string {
  if (before.field instanceof HTMLSelectElement || before.from === null || before.to === null) return '';
  const tailLength = before.value.length - before.to;
  return before.field.value.slice(before.from, before.field.value.length - tailLength);
}
