import type { Thing } from '@corewright/contracts/stores';
import { useQuery } from '@tanstack/react-query';
import { meQuery, useKeepsBooks, useWorksWithThings } from '../../../api/session.js';
import { standsApartQuery } from './apart-queries.js';

export type ApartAct = 'hold' | 'lift' | 'hold on' | 'condemn' | 'disposal' | 'owner' | 'keep';

const none: ReadonlySet<ApartAct> = new Set();

/** Only what the server would let this person do: a hold that waits for somebody by name is not offered to others. */
export function useApartActs(thing: Thing): ReadonlySet<ApartAct> {
  const { data: me } = useQuery(meQuery);
  const keeps = useKeepsBooks();
  const works = useWorksWithThings();
  const { data: apart } = useQuery(standsApartQuery(thing.id));
  if (!works || apart === undefined || me === undefined) return none;
  const isKept = apart.kept !== null;
  const isHere = thing.holdings.some(({ holderKind }) => holderKind === 'place');
  if (thing.condemned) return keeps && isHere && !isKept ? new Set(['disposal']) : none;
  const hold = apart.heldBack;
  const named = hold?.mayLift ?? null;
  const standsIn = me.role === 'owner' && hold !== null && named !== null && hold.mayLiftWords !== named.name;
  const mayLift = hold !== null && !isKept && (named === null ? keeps : named.id === me.id || standsIn);
  const offered: [boolean, ApartAct][] = [
    [keeps && hold === null, 'hold'],
    [mayLift, 'lift'],
    [hold !== null && !isKept, 'hold on'],
    [keeps && thing.owner !== null && !isKept && isHere, 'keep'],
    [keeps && !isKept, 'owner'],
    [keeps && Number(thing.held) > 0, 'condemn'],
  ];
  return new Set(offered.filter(([may]) => may).map(([, act]) => act));
}
