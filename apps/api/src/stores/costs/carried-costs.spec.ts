import { costsOfParts } from '@corewright/costing/share-cost';
import { type Decimal, decimalFrom, subtractDecimals, sumDecimals } from '@corewright/quantities/decimal';
import { type Money, sumMoney } from '@corewright/quantities/money';
import { type CostLot, carriedCosts, netOf, type WentOn } from './carried-costs.js';

const step = (from: string, to: string, quantity: string, kind: WentOn['kind'] = 'split'): WentOn => ({
  from,
  to,
  kind,
  quantity: decimalFrom(quantity),
});
const lot = (id: string, own: bigint | null, ...here: string[]): CostLot => ({
  id,
  own: own as Money | null,
  here: here.map(decimalFrom),
});

/** Small numbers that look thrown, the same at each run from the same seed. */
function thrown(seed: number): (below: number) => number {
  let state = seed;
  return (below) => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    return Math.floor((state / 2 ** 32) * below);
  };
}

describe('what lots cost that were parted and joined', () => {
  it('goes with the goods to the last minor unit', () => {
    const costs = carriedCosts([lot('a', 1000n, '2'), lot('b', null, '1')], [step('a', 'b', '1')]);
    expect(costs.get('b')).toBe(333n);
    expect(costs.get('a')).toBe(1000n);
  });

  it('is all back where what was split off became part of it again', () => {
    const wentOn = [step('a', 'b', '4'), step('b', 'c', '2'), step('c', 'a', '2', 'merged'), step('b', 'a', '2', 'merged')];
    expect(netOf(wentOn)).toEqual([]);
    const costs = carriedCosts([lot('a', 1000n, '10'), lot('b', null), lot('c', null)], wentOn);
    expect([...costs.values()]).toEqual([1000n, 0n, 0n]);
  });

  it('is not known where a part of it is not known, which is not nought', () => {
    const wentOn = [step('a', 'b', '3', 'merged')];
    expect(carriedCosts([lot('a', null), lot('b', 500n, '5')], wentOn).get('b')).toBeNull();
    expect(carriedCosts([lot('a', 500n), lot('b', null, '5')], wentOn).get('b')).toBeNull();
    expect(carriedCosts([lot('a', 300n), lot('b', 500n, '5')], wentOn).get('b')).toBe(800n);
  });

  it('comes to what was paid for all of them, however they are parted and joined', () => {
    const seed = Number(process.env.CW_SEED ?? 20_262);
    const next = thrown(seed);
    for (let round = 0; round < 200; round += 1) {
      const held = new Map<string, Decimal>();
      const own = new Map<string, bigint>();
      const wentOn: WentOn[] = [];
      for (const id of ['a', 'b', 'c']) {
        held.set(id, decimalFrom(String(1 + next(9))));
        own.set(id, BigInt(next(5000)));
      }
      const gone = new Set<string>();
      for (let act = 0; act < 8; act += 1) {
        const alive = [...held.keys()].filter((id) => !gone.has(id));
        const from = alive[next(alive.length)]!;
        const there = held.get(from)!;
        if (next(2) === 0 && there > decimalFrom('1')) {
          const to = `n${round}.${act}`;
          const quantity = decimalFrom('1');
          held.set(from, subtractDecimals(there, quantity)).set(to, quantity);
          wentOn.push({ from, to, kind: 'split', quantity });
        } else if (alive.length > 1) {
          const to = alive.filter((id) => id !== from)[next(alive.length - 1)]!;
          held.set(to, sumDecimals([held.get(to)!, there])).set(from, decimalFrom('0'));
          gone.add(from);
          wentOn.push({ from, to, kind: 'merged', quantity: there });
        }
      }
      const lots = [...held].map(([id, here]) => ({
        id,
        own: (own.get(id) ?? null) as Money | null,
        here: here === 0n ? [] : [here],
      }));
      const costs = carriedCosts(lots, wentOn);
      const net = netOf(wentOn);
      // what lies here of each lot bears its part; what went on is borne by those that it went to
      const borne = lots.flatMap(({ id, here }) => {
        const parts = [...here, ...net.filter(({ from }) => from === id).map(({ quantity }) => quantity)];
        return costsOfParts(costs.get(id)!, parts).slice(0, here.length);
      });
      expect({ seed, round, borne: sumMoney(borne) }).toEqual({ seed, round, borne: sumMoney([...own.values()] as Money[]) });
    }
  });
});
