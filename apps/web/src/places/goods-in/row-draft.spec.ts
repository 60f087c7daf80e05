import fc from 'fast-check';
import {
  accepted,
  beginDraft,
  conflicted,
  isDirty,
  isSettled,
  keyed,
  prepared,
  type RowDraft,
  refused,
  settled,
} from './row-draft.js';
import { blankRow, differences, ditto, nextRowAfter, type RowValues, whatIsWanting, withKind } from './row-values.js';

const seal: RowValues = {
  ...blankRow('lot'),
  referenceId: 'part-1',
  referenceText: '48-2230',
  words: 'Oil seal, worm input',
  count: '6',
  packetDate: '3/94',
  placeId: 'place-1',
  placeText: 'R4 B08',
};
const begin = (values: RowValues, base: RowDraft['base'] = null): RowDraft =>
  beginDraft({ id: 'row-1', loadId: 'load-1', position: 1, values, base });
const stamp = (key: string) => ({ key, madeAt: '2026-11-25T10:00:00Z' });

describe('a row between keyboard and server', () => {
  it('repeats the command whose fate is unknown, with its key and its values, though the row was keyed on', () => {
    const sent = prepared(begin(seal), stamp('key-1'));
    const keyedOn = keyed(sent, { ...seal, count: '7' });
    const again = prepared(keyedOn, stamp('key-2'));
    expect(again.command).toEqual({ key: 'key-1', madeAt: '2026-11-25T10:00:00Z', values: seal, version: null });
  });

  it('sends what was keyed meanwhile as an edit of the version that the server gave', () => {
    const sent = keyed(prepared(begin(seal), stamp('key-1')), { ...seal, count: '7' });
    const next = prepared(accepted(sent, 1), stamp('key-2'));
    expect(next.command).toMatchObject({ key: 'key-2', version: 1, values: { count: '7' } });
  });

  it('may be forgotten when the server has all of it, and not before', () => {
    const sent = prepared(begin(seal), stamp('key-1'));
    expect(isSettled(sent)).toBe(false);
    expect(isSettled(accepted(sent, 1))).toBe(true);
    expect(isSettled(accepted(keyed(sent, { ...seal, count: '7' }), 1))).toBe(false);
  });

  it('keeps what was keyed when it is refused, and sends nothing more until something is changed', () => {
    const after = refused(prepared(begin({ ...seal, count: '0' }), stamp('key-1')), {
      title: 'No quantity',
      detail: 'Key 1 or more.',
    });
    expect(after.values.count).toBe('0');
    expect(prepared(after, stamp('key-2')).command).toBeNull();
    expect(prepared(keyed(after, seal), stamp('key-2')).command?.key).toBe('key-2');
  });

  it('holds both readings of a conflict until a person chooses', () => {
    const base = { version: 1, values: seal };
    const mine = begin({ ...seal, count: '5' }, base);
    const clash = conflicted(prepared(mine, stamp('key-1')), { ...seal, count: '4' }, 2);
    expect(prepared(clash, stamp('key-2')).command).toBeNull();
    expect(prepared(settled(clash, 'mine'), stamp('key-2')).command).toMatchObject({ version: 2, values: { count: '5' } });
    expect(isDirty(settled(clash, 'theirs'))).toBe(false);
  });

  it('ends with the server having what was keyed last, whatever was keyed while commands were under way', () => {
    fc.assert(
      fc.property(
        fc.array(fc.record({ count: fc.integer({ min: 1, max: 99 }).map(String), answers: fc.boolean() }), { minLength: 1 }),
        (steps) => {
          let draft = begin(seal);
          let version = 0;
          for (const [index, step] of steps.entries()) {
            draft = prepared(keyed(draft, { ...seal, count: step.count }), stamp(`key-${index}`));
            if (step.answers) draft = accepted(draft, ++version);
          }
          while (!isSettled(draft)) draft = accepted(prepared(draft, stamp('last')), ++version);
          expect(draft.base?.values.count).toBe(steps.at(-1)?.count);
        },
      ),
    );
  });
});

describe('the cells of a row', () => {
  it('take ditto from the row above, the chosen part with its number', () => {
    expect(ditto(blankRow('lot'), seal, 'reference')).toMatchObject({
      referenceId: 'part-1',
      referenceText: '48-2230',
      words: 'Oil seal, worm input',
    });
    expect(ditto(blankRow('lot'), seal, 'packetDate').packetDate).toBe('3/94');
    expect(ditto(blankRow('lot'), seal, 'place')).toMatchObject({ placeId: 'place-1', placeText: 'R4 B08' });
  });

  it('take no part number into a unit', () => {
    expect(ditto(blankRow('unit'), seal, 'reference')).toEqual(blankRow('unit'));
  });

  it('begin the next row as the last one left off, without its facts', () => {
    expect(nextRowAfter(seal)).toMatchObject({ kind: 'lot', placeId: 'place-1', referenceId: null, packetDate: '', count: '1' });
  });

  it('keep words and place when the kind is changed', () => {
    expect(withKind(seal, 'unsorted')).toMatchObject({
      kind: 'unsorted',
      words: 'Oil seal, worm input',
      placeId: 'place-1',
      referenceId: null,
    });
  });

  it('say what is wanting before they are sent', () => {
    expect(whatIsWanting(blankRow('unsorted'))?.cell).toBe('words');
    expect(whatIsWanting({ ...blankRow('lot'), words: 'felt ring', count: '' })?.cell).toBe('count');
    expect(whatIsWanting({ ...blankRow('unit'), words: 'worm axle, nobody knows whose' })).toBeNull();
  });

  it('name the cells in which two readings differ', () => {
    expect(differences(seal, { ...seal, marks: 'HALL?RAN' })).toEqual([{ cell: 'marks', mine: '', theirs: 'HALL?RAN' }]);
  });
});
