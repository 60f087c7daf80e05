/** Which of several forms stands open. Each opening has a turn of its own: the same form opened again is another opening. */
export interface OneForm<Which> {
  readonly which: Which | null;
  readonly turn: number;
}

export const noForm: OneForm<never> = { which: null, turn: 0 };

/** Another form in place of the one that stands; what stands already stays as it is, with what is keyed in it. */
export function opened<Which>(now: OneForm<Which>, which: Which): OneForm<Which> {
  return now.which === which ? now : { which, turn: now.turn + 1 };
}

/** Closes the opening of that turn, and none that came after it. */
export function closed<Which>(now: OneForm<Which>, turn: number): OneForm<Which> {
  return now.turn === turn ? { which: null, turn } : now;
}
