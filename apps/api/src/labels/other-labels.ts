import type { LabelCode } from '@corewright/codes/label-code';
import { codeParts } from '@corewright/codes/label-code';
import { type CommandCard, commandCards } from '@corewright/contracts/scanning';
import { commandLabel, placeLabel } from '@corewright/labels/label-model';
import type { Reader } from '../platform/database/database.js';
import { placePath } from '../stores/place-words.js';
import type { LabelSubject } from './label-subject.js';

const selectPlaces = `
  SELECT codes.code, places.name, places.kind, ${placePath('places.parent_id')} AS path
    FROM codes JOIN places ON places.holder_id = subject_id WHERE codes.code = ANY ($1::text[])`;

/** A place's name is what is looked for from afar. */
export async function placeLabels(reader: Reader, codes: readonly LabelCode[]): Promise<ReadonlyMap<LabelCode, LabelSubject>> {
  const rows = await reader.rows<{ code: LabelCode; name: string; kind: string; path: string | null }>(selectPlaces, [codes]);
  return new Map(
    rows.map(({ code, name, kind, path }) => [
      code,
      { stock: 'bag label', models: [placeLabel({ code, name, note: kind, ...(path === null ? {} : { path }) })] },
    ]),
  );
}

const selectBadges = `
  SELECT codes.code, display_name AS name FROM codes JOIN people ON people.id = subject_id WHERE codes.code = ANY ($1::text[])`;

/** The badge of a person: the name, and no more. */
export async function badgeLabels(reader: Reader, codes: readonly LabelCode[]): Promise<ReadonlyMap<LabelCode, LabelSubject>> {
  const rows = await reader.rows<{ code: LabelCode; name: string }>(selectBadges, [codes]);
  return new Map(
    rows.map(({ code, name }) => [code, { stock: 'bag label', models: [placeLabel({ code, name, note: 'badge' })] }]),
  );
}

/** What a scan does after the card was scanned, for whoever finds the card on the bench. */
const meanings: Record<CommandCard, string> = {
  look: 'a scan shows what it is',
  pick: 'into the job’s tray, still stock',
  fit: 'into the unit',
  'put away': 'the place once, then many things',
  'choice 1': 'the first choice offered',
  'choice 2': 'the second choice offered',
  'choice 3': 'the third choice offered',
  'take back': 'the last act, undone',
  count: 'the place once, then each thing and how many',
  'all is scanned': 'in the mode count: nothing else lies here',
};

/** The cards in their order: the first is K 000001. */
export async function commandLabels(_reader: Reader, codes: readonly LabelCode[]): Promise<ReadonlyMap<LabelCode, LabelSubject>> {
  const subjects = new Map<LabelCode, LabelSubject>();
  for (const code of codes) {
    const card = commandCards[Number(codeParts(code).digits) - 1];
    if (card === undefined) continue;
    const command = card.charAt(0).toUpperCase() + card.slice(1);
    subjects.set(code, { stock: 'bag label', models: [commandLabel({ code, command, meaning: meanings[card] })] });
  }
  return subjects;
}
