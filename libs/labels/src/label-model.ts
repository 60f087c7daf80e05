/** What is to be said on a label, and how the things of the workshop say it. No geometry here. */
import { formatCode, type LabelCode } from '@corewright/codes/label-code';

export interface LabelModel {
  code: LabelCode;
  /** Small, top right: the copy ("1 of 2, casing") or the place. */
  corner?: string;
  /** Large, right of the code: the grade. */
  badge?: string;
  title: string;
  subtitle?: string;
  /** Right-hand column, the weightiest last; those that find no room there go to the footer. */
  facts?: readonly string[];
  /** Small print, joined by middle dots. */
  footer?: readonly string[];
  /** What forbids use, in words, white on a black bar. */
  warning?: string;
  /** The title is what is looked for from afar (a place, a command): it gets the room of facts and footer if there are none. */
  prominent?: boolean;
}

export interface UnitLabelFields {
  code: LabelCode;
  /** "Overhead-worm axle". */
  title: string;
  /** "Brantock WD7 · 7¾ : 1 · 4/31", or "not yet identified". */
  subtitle?: string;
  grade?: string;
  /** "about 186 kg, two to lift", "not weighed". */
  weight?: string;
  /** The customer's name; none means the workshop's own. */
  owner?: string;
  /** As read, with `?` for what cannot be read. */
  marks?: string;
  notes?: readonly string[];
  warning?: string;
}

/** Two tags to a unit: one on the casing, one with the paperwork, for cleaning eats tags. */
export function unitTags(fields: UnitLabelFields): [LabelModel, LabelModel] {
  const tag = (corner: string): LabelModel => ({
    code: fields.code,
    corner,
    title: fields.title,
    facts: [fields.weight ?? 'not weighed', fields.owner === undefined ? 'ours' : `owner ${fields.owner}`],
    footer: [...(fields.marks === undefined ? ['no marks read'] : [`marks ${fields.marks}`]), ...(fields.notes ?? [])],
    ...given({ badge: fields.grade, subtitle: fields.subtitle, warning: fields.warning }),
  });
  return [tag('1 of 2, casing'), tag('2 of 2, paperwork')];
}

export interface LotLabelFields {
  code: LabelCode;
  place?: string;
  /** The part's name. */
  title: string;
  /** The maker's number for it. */
  number?: string;
  /** Source and make: "old stock, genuine". */
  provenance?: string;
  /** Quantity with its unit, where the bag holds more than one. */
  quantity?: string;
  /** The packet date as it was read: "1949", "3/53", "unknown". */
  packet?: string;
  owner?: string;
  notes?: readonly string[];
  warning?: string;
}

export function lotLabel(fields: LotLabelFields): LabelModel {
  const packet = fields.packet === undefined ? [] : [`packet ${fields.packet}`];
  const owner = fields.owner === undefined ? [] : [`owner ${fields.owner}`];
  const quantity = fields.quantity === undefined ? [] : [fields.quantity];
  return {
    code: fields.code,
    corner: fields.place ?? 'no place yet',
    title: fields.title,
    facts: fields.provenance === undefined ? [] : [fields.provenance],
    footer: [...quantity, ...packet, ...owner, ...(fields.notes ?? [])],
    ...given({ subtitle: fields.number, warning: fields.warning }),
  };
}

export interface UnsortedLabelFields {
  code: LabelCode;
  place?: string;
  /** What was seen, in the words of whoever took it in. */
  words: string;
  /** "about 40 pieces". */
  count?: string;
  /** "load 61". */
  load?: string;
  photographCount?: number;
  owner?: string;
  notes?: readonly string[];
  warning?: string;
}

export function unsortedLabel(fields: UnsortedLabelFields): LabelModel {
  const load = fields.load === undefined ? [] : [fields.load];
  const owner = fields.owner === undefined ? [] : [`owner ${fields.owner}`];
  return {
    code: fields.code,
    corner: fields.place ?? 'no place yet',
    title: `Unsorted: ${fields.words}`,
    subtitle: fields.count ?? 'not counted',
    facts: fields.photographCount === undefined ? [] : [photographs(fields.photographCount)],
    footer: [...load, ...owner, 'nobody has named it yet', ...(fields.notes ?? [])],
    ...given({ warning: fields.warning }),
  };
}

export interface ComponentLabelFields {
  code: LabelCode;
  /** The unit it belongs to. */
  unit: LabelCode;
  number: number;
  count: number;
  title: string;
  place?: string;
  owner?: string;
  notes?: readonly string[];
  warning?: string;
}

/** The tag of a component that is off its unit. */
export function componentLabel(fields: ComponentLabelFields): LabelModel {
  return {
    code: fields.code,
    corner: fields.place ?? 'off its unit',
    title: fields.title,
    subtitle: `${formatCode(fields.unit)}, ${fields.number} of ${fields.count}`,
    facts: [fields.owner === undefined ? 'ours' : `owner ${fields.owner}`],
    footer: fields.notes ?? [],
    ...given({ warning: fields.warning }),
  };
}

/** Printed before anything bears it: the code, and room to write on. Two tags where it is for a unit. */
export function blankLabels(fields: { code: LabelCode; kind: 'unit' | 'lot' | 'unsorted' }): [LabelModel, ...LabelModel[]] {
  const label = (corner: string): LabelModel => ({
    code: fields.code,
    corner,
    title: blankLine,
    facts: [],
    footer: ['blank: scan it into a load'],
  });
  return fields.kind === 'unit'
    ? [label('1 of 2, casing'), label('2 of 2, paperwork')]
    : [label(fields.kind === 'lot' ? 'bag' : 'box')];
}

/** What is written by hand stands on it. */
const blankLine = '________________';

/** `path` is where the place lies: "stores, rack 3". */
export function placeLabel(fields: { code: LabelCode; name: string; path?: string; note?: string }): LabelModel {
  return {
    code: fields.code,
    title: fields.name,
    prominent: true,
    ...given({ subtitle: fields.path, corner: fields.note }),
  };
}

/** The code that is stuck to a job card or to a job's tray. */
export function jobLabel(fields: {
  code: LabelCode;
  title: string;
  unit?: LabelCode;
  customer?: string;
  tray?: string;
  notes?: readonly string[];
}): LabelModel {
  return {
    code: fields.code,
    corner: fields.tray ?? 'job',
    title: fields.title,
    subtitle: fields.unit === undefined ? 'no unit yet' : formatCode(fields.unit),
    facts: [fields.customer ?? 'for stock'],
    footer: fields.notes ?? [],
  };
}

/** A card that is scanned to say what the next scans mean: "Fit", "Pick", "Undo". */
export function commandLabel(fields: { code: LabelCode; command: string; meaning?: string }): LabelModel {
  return { code: fields.code, corner: 'command', title: fields.command, prominent: true, ...given({ subtitle: fields.meaning }) };
}

function photographs(count: number): string {
  if (count === 0) return 'no photograph';
  return count === 1 ? 'photograph 1' : `photographs 1 to ${count}`;
}

/** Leaves out what was not given, so that a model has only the lines it says. */
function given<Fields extends Record<string, string | undefined>>(fields: Fields): { [Key in keyof Fields]?: string } {
  return Object.fromEntries(Object.entries(fields).filter(([, value]) => value !== undefined && value !== '')) as {
    [Key in keyof Fields]?: string;
  };
}
