import { makeCode, parseCode } from '@corewright/codes/label-code';
import { commandCards } from '@corewright/contracts/scanning';
import {
  afterIdling,
  chooseCount,
  chooseJob,
  chooseMode,
  choosePlace,
  idleMilliseconds,
  intentOf,
  leavePlace,
  lookingOnly,
  modeOfKey,
  modeRules,
} from './modes.js';

const read = (kind: Parameters<typeof makeCode>[0], serial = 412) => {
  const parsed = parseCode(makeCode(kind, serial));
  if (!parsed.ok) throw new Error(parsed.error.message);
  return parsed.value;
};
const job = { id: 'j', code: 'J00010781', name: 'Overhead-worm axle', detail: 'for R. Sandiman' };
const shelf = { id: 'p', code: 'P00031247', name: 'R2', detail: 'yard' };
const fitting = chooseJob(chooseMode(lookingOnly, 'fit', 1_000), job, 2_000);

describe('what a scan does', () => {
  it('only looks to begin with, whatever is scanned', () => {
    for (const kind of ['U', 'L', 'C', 'X', 'P', 'J', 'B'] as const)
      expect(intentOf(lookingOnly, read(kind))).toEqual({ kind: 'look' });
  });
  it('goes onto the job in fit, once there is one', () => {
    expect(intentOf(chooseMode(lookingOnly, 'fit', 0), read('L'))).toMatchObject({
      kind: 'cannot',
      title: 'No job yet: nothing was moved',
    });
    expect(intentOf(fitting, read('L'))).toEqual({ kind: 'act', act: 'fit', onto: job });
    expect(intentOf(fitting, read('J', 7))).toEqual({ kind: 'choose-job' });
  });
  it('needs a place once, then takes many things', () => {
    const away = chooseMode(lookingOnly, 'put away', 0);
    expect(intentOf(away, read('U'))).toMatchObject({ kind: 'cannot', title: 'No place yet: nothing was moved' });
    expect(intentOf(away, read('P'))).toEqual({ kind: 'choose-place' });
    expect(intentOf(choosePlace(away, shelf, 5), read('U'))).toEqual({ kind: 'act', act: 'put away', onto: shelf });
  });
  it('counts at a place, and moves on to the next one that is scanned', () => {
    const counting = chooseMode(lookingOnly, 'count', 0);
    expect(intentOf(counting, read('L'))).toMatchObject({ kind: 'cannot', title: 'No place yet: nothing was counted' });
    expect(intentOf(counting, read('P'))).toEqual({ kind: 'count-place' });
    const there = choosePlace(counting, shelf, 5);
    expect(intentOf(there, read('L'))).toEqual({ kind: 'act', act: 'count', onto: shelf });
    expect(intentOf(there, read('P'))).toEqual({ kind: 'count-place' });
    expect(intentOf(there, read('J'))).toMatchObject({ kind: 'cannot', title: 'That is a job card: nothing was counted' });
  });
  it('counts in the count that was chosen until another mode is', () => {
    const chosen = choosePlace(chooseCount(lookingOnly, 'c', 0), shelf, 1);
    expect(chooseMode(chosen, 'count', 2)).toMatchObject({ countId: 'c', place: shelf });
    expect(chooseMode(chooseMode(chosen, 'look', 2), 'count', 3).countId).toBeUndefined();
    expect(afterIdling(chosen, 1 + idleMilliseconds).countId).toBeUndefined();
    expect(leavePlace(chosen, 2)).toMatchObject({ mode: 'count', countId: 'c', place: null });
  });
  it.each([
    ['P', 'a place'],
    ['T', 'a tool'],
    ['B', 'a badge'],
  ] as const)('never fits a %s', (kind, words) => {
    expect(intentOf(fitting, read(kind))).toMatchObject({ kind: 'cannot', title: `That is ${words}: nothing was moved` });
  });
  it('obeys every printed command card in every mode, and refuses one that is not known', () => {
    commandCards.forEach((command, index) => {
      expect(intentOf(fitting, read('K', index + 1))).toEqual({ kind: 'command', command });
    });
    expect(intentOf(fitting, read('K', 999))).toMatchObject({ kind: 'cannot' });
  });
});

describe('the mode', () => {
  it('falls back to look after three idle minutes and keeps the job in sight', () => {
    expect(afterIdling(fitting, 2_000 + idleMilliseconds - 1).mode).toBe('fit');
    expect(afterIdling(fitting, 2_000 + idleMilliseconds)).toMatchObject({ mode: 'look', job });
  });
  it('forgets the place whenever another mode is chosen', () => {
    const away = choosePlace(chooseMode(lookingOnly, 'put away', 0), shelf, 0);
    expect(chooseMode(away, 'put away', 1).place).toEqual(shelf);
    expect(chooseMode(chooseMode(away, 'look', 1), 'put away', 2).place).toBeNull();
  });
  it('has a key of its own each', () => {
    expect(new Set(modeRules.map((rule) => rule.key)).size).toBe(modeRules.length);
    for (const rule of modeRules) expect(modeOfKey(rule.key)).toBe(rule.mode);
    expect(modeOfKey('f')).toBeNull();
  });
});
