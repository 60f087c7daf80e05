import type { Thing } from '@corewright/contracts/stores';
import { useKeepsBooks, useWorksWithThings } from '../../api/session.js';
import { type ApartAct, useApartActs } from './apart/use-apart-acts.js';

export type ThingAct = ApartAct | 'not there' | 'inspect' | 'preserve' | 'bind' | 'casing' | 'split' | 'merge';

export const WORDS: Readonly<Record<ThingAct, string>> = {
  'not there': 'Not there',
  inspect: 'Inspect it',
  preserve: 'Bearing: how preserved',
  bind: 'Keep it together with another',
  casing: 'Another casing for its insides',
  split: 'Two bags in one',
  merge: 'The same as another',
  hold: 'Hold it back',
  lift: 'Lift the hold',
  'hold on': 'Keep it held back',
  condemn: 'Condemn it',
  disposal: 'What becomes of it',
  owner: 'Whose it is',
  keep: 'Keep it for its owner',
};

/** The forms that this person may send of it. */
export function useThingActs(thing: Thing): ReadonlySet<ThingAct> {
  const keeps = useKeepsBooks();
  const works = useWorksWithThings();
  const apart = useApartActs(thing);
  const isLot = thing.kind === 'lot';
  const isHere = isInPlace(thing);
  const offered: [boolean, ThingAct][] = [
    [works && thing.missing === null && isHere, 'not there'],
    [keeps && isLot, 'inspect'],
    [keeps && isLot && thing.canBeBearing, 'preserve'],
    [works && thing.kind === 'unit', 'casing'],
    [works && (thing.kind === 'component' || (isLot && thing.held === '1')), 'bind'],
    [works && isLot && isHere, 'split'],
    [keeps && isLot && isHere, 'merge'],
  ];
  return new Set([...apart, ...offered.filter(([may]) => may).map(([, act]) => act)]);
}

export function isInPlace({ holdings }: Thing): boolean {
  return holdings.some(({ holderKind }) => holderKind === 'place');
}
