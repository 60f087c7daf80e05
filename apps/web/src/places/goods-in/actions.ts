import { LoadBrief, LoadRow } from '@corewright/contracts/goods-in';
import { api } from '../../api/client.js';
import { type ApiProblem, asProblem } from '../../api/problem.js';
import { newKey } from '../../api/uuid.js';
import type { ComboOption } from '../../ui/combo-options.js';
import { findPlaces } from '../stores/place/find-places.js';
import type { SendAnswer } from './draft-desk.js';
import { findParts, findUnitTypes } from './queries.js';
import { rowInputOf, valuesOf } from './row-contract.js';
import type { RowCommand, RowDraft } from './row-draft.js';
import type { RowValues } from './row-values.js';

export interface OpenLoadInput {
  readonly id: string;
  readonly words: string;
  readonly sellerName: string;
  readonly boughtOn: string;
}

/** Opens a load; the key makes a second press harmless. */
export function openLoad(input: OpenLoadInput, key: string): Promise<LoadBrief> {
  return api.send(LoadBrief, 'POST', '/api/loads', input, { key });
}

/** Sends one row's command and says what came of it, never by throwing. */
export async function sendRow(draft: RowDraft, command: RowCommand): Promise<SendAnswer> {
  try {
    const row = await api.send(
      LoadRow,
      'PUT',
      `/api/loads/${draft.loadId}/rows/${draft.id}`,
      rowInputOf(command.values, draft.position),
      {
        key: command.key,
        madeAt: command.madeAt,
        ...(command.version === null ? {} : { ifMatch: `"${command.version}"` }),
      },
    );
    return { kind: 'accepted', row };
  } catch (thrown) {
    return answerOf(asProblem(thrown));
  }
}

function answerOf(problem: ApiProblem): SendAnswer {
  if (isNoAnswer(problem)) return { kind: 'unreachable' };
  const current = LoadRow.safeParse(problem.values.current);
  if (problem.status === 412 && current.success)
    return { kind: 'conflict', theirs: valuesOf(current.data), version: current.data.version };
  return { kind: 'refused', title: problem.title, detail: [problem.detail, ...wordsOfFields(problem)].join(' ') };
}

/** Says nothing about what was asked: it is asked again later. */
function isNoAnswer({ code, status }: ApiProblem): boolean {
  return code === 'no-answer' || status >= 500 || status === 429 || status === 401;
}

/** What a refusal says of single fields, in words. */
function wordsOfFields(problem: ApiProblem): readonly string[] {
  const fields = problem.values.fields;
  if (!Array.isArray(fields)) return [];
  return fields.flatMap((field: unknown) =>
    typeof field === 'object' && field !== null && 'words' in field && typeof field.words === 'string' ? [field.words] : [],
  );
}

/** Names what was keyed but not chosen from the list: only where exactly one thing bears that name. Null without an answer. */
export async function resolveTexts(values: RowValues): Promise<RowValues | null> {
  try {
    return await resolvePlace(await resolveReference(values));
  } catch (thrown) {
    return isNoAnswer(asProblem(thrown)) ? null : values;
  }
}

async function resolveReference(values: RowValues): Promise<RowValues> {
  if (values.referenceId !== null || values.referenceText.trim() === '' || values.kind === 'unsorted') return values;
  const source = values.kind === 'unit' ? findUnitTypes : findParts;
  const options = await source(values.referenceText, new AbortController().signal);
  const found = onlyOneNamed(options, values.referenceText) ?? onlyType(values, options);
  if (found === undefined) return values;
  return chosen(values, found);
}

/** Unit types are few: one that alone is found for what was keyed is meant. A part must be named in full. */
function onlyType(values: RowValues, options: readonly ComboOption[]): ComboOption | undefined {
  const types = options.filter((option) => option.id !== '');
  return values.kind === 'unit' && types.length === 1 ? types[0] : undefined;
}

/** A row after a type or part was chosen for it. Its words are taken over where nothing was said yet. */
export function chosen(values: RowValues, option: ComboOption): RowValues {
  if (option.id === '') return { ...values, referenceId: null, referenceText: '' };
  const words = values.words === '' || values.kind === 'lot' ? (option.name ?? '') : values.words;
  return { ...values, referenceId: option.id, referenceText: option.label, words };
}

async function resolvePlace(values: RowValues): Promise<RowValues> {
  if (values.placeId !== null || values.placeText.trim() === '') return values;
  const { options } = await findPlaces(values.placeText, new AbortController().signal);
  const found = options.length === 1 ? options[0] : onlyOneNamed(options, values.placeText);
  return found === undefined ? values : { ...values, placeId: found.id, placeText: found.label };
}

function onlyOneNamed(options: readonly ComboOption[], typed: string): ComboOption | undefined {
  const bare = (text: string) => text.toLowerCase().replace(/[^\p{L}\p{N}]/gu, '');
  const named = options.filter((option) =>
    [option.label, option.note, option.also].some((name) => name !== undefined && bare(name) === bare(typed)),
  );
  return named.length === 1 ? named[0] : undefined;
}

/** Strikes a row out: it stays on the record, its code is void. */
export function strikeRow(loadId: string, row: Pick<LoadRow, 'id' | 'version'>, reason: string): Promise<LoadRow> {
  return api.send(
    LoadRow,
    'POST',
    `/api/loads/${loadId}/rows/${row.id}/strike`,
    { reason },
    { key: newKey(), ifMatch: `"${row.version}"` },
  );
}
