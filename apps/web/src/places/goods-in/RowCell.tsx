import { Make, PacketCondition, Source } from '@corewright/contracts/base';
import { useQuery } from '@tanstack/react-query';
import { type KeyboardEvent, useMemo, useRef } from 'react';
import { ComboInput } from '../../ui/ComboInput.js';
import { classNames } from '../../ui/class-names.js';
import type { ComboOption, ComboSource } from '../../ui/combo-options.js';
import { findPlaces } from '../stores/place/find-places.js';
import { chosen } from './actions.js';
import styles from './LoadGrid.module.css';
import { findFirms, findParts, findUnitTypes, gradesQuery } from './queries.js';
import { CELL_WORDS, type Cell, type RowKind, type RowValues, textOf, withKind } from './row-values.js';

export interface RowCellProps {
  readonly cell: Cell;
  readonly values: RowValues;
  readonly onKey: (values: RowValues) => void;
  readonly isWanting?: boolean;
}

/** One cell of the row in hand, with its own way of being keyed. */
export function RowCell(props: RowCellProps) {
  switch (props.cell) {
    case 'kind':
      return <KindCell {...props} />;
    case 'reference':
      return <ReferenceCell {...props} />;
    case 'grade':
      return <GradeCell {...props} />;
    case 'place':
      return <PlaceCell {...props} />;
    case 'owner':
    case 'maker':
      return props.cell === 'owner' ? <OwnerCell {...props} /> : <PlainCell {...props} />;
    case 'source':
      return <ListCell {...props} options={Source.options} />;
    case 'make':
      return <ListCell {...props} options={Make.options} />;
    case 'packetCondition':
      return <ListCell {...props} options={PacketCondition.options} />;
    default:
      return <PlainCell {...props} />;
  }
}

const KIND_KEYS: Readonly<Record<string, RowKind>> = { u: 'unit', l: 'lot', x: 'unsorted' };

/** A scanner's burst begins with the same letters: only a key that stands alone for so many milliseconds chooses a kind. */
const ALONE_MS = 60;

function KindCell({ values, onKey }: RowCellProps) {
  const timer = useRef<ReturnType<typeof setTimeout>>(undefined);
  const keyDown = (event: KeyboardEvent<HTMLSelectElement>) => {
    clearTimeout(timer.current);
    const kind = KIND_KEYS[event.key.toLowerCase()];
    if (kind === undefined || event.ctrlKey || event.metaKey || event.altKey) return;
    event.preventDefault();
    const field = event.currentTarget;
    timer.current = setTimeout(() => {
      onKey(withKind(values, kind));
      requestAnimationFrame(() => focusAfter(field));
    }, ALONE_MS);
  };
  return (
    <select
      className={styles.cell}
      data-cell="kind"
      aria-label="kind: U unit, L lot, X unsorted"
      value={values.kind}
      onKeyDown={keyDown}
      onChange={(event) => onKey(withKind(values, kindOf(event.target.value)))}
    >
      <option value="unit">U unit</option>
      <option value="lot">L lot</option>
      <option value="unsorted">X unsorted</option>
    </select>
  );
}

function kindOf(value: string): RowKind {
  return value === 'lot' || value === 'unsorted' ? value : 'unit';
}

function focusAfter(field: HTMLElement): void {
  const fields = [...(field.closest('tbody')?.querySelectorAll<HTMLElement>('select, input') ?? [])];
  fields[fields.indexOf(field) + 1]?.focus();
}

function ReferenceCell({ values, onKey, isWanting }: RowCellProps) {
  return (
    <ComboInput
      className={cellClass(isWanting)}
      cell="reference"
      label={values.kind === 'unit' ? 'type' : 'part number, or name'}
      text={values.referenceText}
      placeholder={values.kind === 'unit' && values.referenceId === null ? 'not yet identified' : undefined}
      isInvalid={isWanting}
      source={values.kind === 'unit' ? findUnitTypes : findParts}
      onText={(text) => onKey({ ...values, referenceId: null, referenceText: text })}
      onChoose={(option: ComboOption) => onKey(chosen(values, option))}
    />
  );
}

function PlaceCell({ values, onKey, isWanting }: RowCellProps) {
  return (
    <ComboInput
      className={cellClass(isWanting)}
      cell="place"
      label="place"
      text={values.placeText}
      isInvalid={isWanting}
      source={findPlaces}
      onText={(text) => onKey({ ...values, placeId: null, placeText: text })}
      onChoose={(option) => onKey({ ...values, placeId: option.id, placeText: option.label })}
    />
  );
}

function OwnerCell({ values, onKey }: RowCellProps) {
  return (
    <ComboInput
      className={styles.cell}
      cell="owner"
      label="owner"
      text={values.ownerName}
      placeholder="ours"
      source={findFirms}
      onText={(text) => onKey({ ...values, ownerName: text })}
      onChoose={(option) => onKey({ ...values, ownerName: option.label })}
    />
  );
}

/** Conditions that a part is commonly found in; the workshop's own grades stand beside them. */
const CONDITIONS = ['as new', 'shelf-worn', 'corroded', 'unverified'];

function GradeCell({ values, onKey }: RowCellProps) {
  const grades = useQuery(gradesQuery).data?.grades;
  const source = useMemo<ComboSource>(() => {
    const scale = values.kind === 'unit' ? 'core' : 'part';
    const ofScale = (grades ?? [])
      .filter((grade) => grade.scale === scale && !grade.retired)
      .map((grade) => ({ id: grade.letter, label: grade.letter, note: grade.meaning }));
    const all = scale === 'part' ? [...CONDITIONS.map((words) => ({ id: words, label: words })), ...ofScale] : ofScale;
    return async (typed) => all.filter((option) => option.label.toLowerCase().startsWith(typed.trim().toLowerCase()));
  }, [grades, values.kind]);
  return (
    <ComboInput
      className={styles.cell}
      cell="grade"
      label={values.kind === 'unit' ? 'grade' : 'condition'}
      text={values.grade}
      source={source}
      onText={(text) => onKey({ ...values, grade: values.kind === 'unit' ? text.toUpperCase() : text })}
      onChoose={(option) => onKey({ ...values, grade: option.label })}
    />
  );
}

function ListCell<Option extends string>({
  cell,
  values,
  onKey,
  options,
}: RowCellProps & { readonly options: readonly Option[] }) {
  return (
    <select
      className={styles.cell}
      data-cell={cell}
      aria-label={CELL_WORDS[cell]}
      value={textOf(values, cell)}
      onChange={(event) => onKey({ ...values, [cell]: event.target.value })}
    >
      {options.map((option) => (
        <option key={option} value={option}>
          {option}
        </option>
      ))}
    </select>
  );
}

const FIELD_OF: Readonly<Partial<Record<Cell, keyof RowValues>>> = { maker: 'makerName' };

function PlainCell({ cell, values, onKey, isWanting }: RowCellProps) {
  return (
    <input
      className={cellClass(isWanting)}
      data-cell={cell}
      aria-label={CELL_WORDS[cell]}
      aria-invalid={isWanting === true ? true : undefined}
      aria-describedby={cell === 'packetDate' ? 'row-hint' : undefined}
      inputMode={cell === 'count' ? 'decimal' : 'text'}
      autoComplete="off"
      spellCheck={false}
      value={textOf(values, cell)}
      onChange={(event) => onKey({ ...values, [FIELD_OF[cell] ?? cell]: event.target.value })}
    />
  );
}

function cellClass(isWanting: boolean | undefined): string {
  return classNames(styles.cell, isWanting === true && styles.wanting);
}
