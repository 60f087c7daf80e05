/** Why something keyed or read was refused: a code for programs, a sentence for the person who keyed it. */
export interface Refusal<Code extends string = string> {
  readonly code: Code;
  /** Plain words: what is wrong and what to key instead. */
  readonly sentence: string;
}

/** The answer of anything that a person's input can make fail. Bugs throw instead. */
export type Result<Value, Code extends string = string> =
  | { readonly ok: true; readonly value: Value }
  | { readonly ok: false; readonly error: Refusal<Code> };

export function accept<Value>(value: Value): { readonly ok: true; readonly value: Value } {
  return { ok: true, value };
}

export function refuse<Code extends string>(code: Code, sentence: string): { readonly ok: false; readonly error: Refusal<Code> } {
  return { ok: false, error: { code, sentence } };
}
