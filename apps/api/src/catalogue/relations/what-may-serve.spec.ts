import fc from 'fast-check';
import { chainFrom } from './successors.js';
import { type Link, whatMayServe } from './what-may-serve.js';

const partIds = ['a', 'b', 'c', 'd', 'e', 'f', 'g'];
const anyLink = fc.record({
  kind: fc.constantFrom<Link['kind']>('supersession', 'same as', 'will serve for'),
  fromId: fc.constantFrom(...partIds),
  toId: fc.constantFrom(...partIds),
  isKit: fc.boolean(),
  isWithdrawn: fc.boolean(),
});
/** Any graph at all, circles and parts related to themselves included: the answer must not rest on what the books refuse. */
const anyGraph = fc.array(anyLink, { maxLength: 24 }).map((links) =>
  links.map(
    (link, index): Link => ({
      ...link,
      id: String(index),
      groupId: link.fromId,
      isKit: link.isKit && link.kind === 'supersession',
    }),
  ),
);
const anyPart = fc.constantFrom(...partIds);
const runs = { numRuns: process.env.CW_LONG === '1' ? 20_000 : 1000 };

let serial = 0;
function link(fromId: string, kind: Link['kind'], toId: string, more: Partial<Link> = {}): Link {
  serial += 1;
  return { id: `${serial}`, groupId: `${serial}`, kind, fromId, toId, isKit: false, isWithdrawn: false, ...more };
}
const found = (wanted: string, links: Link[]) =>
  whatMayServe(wanted, links).candidates.map(({ partId, as }) => `${partId} ${as}`);
const refusals = (wanted: string, links: Link[]) =>
  whatMayServe(wanted, links).refused.map(({ partId, why }) => `${partId} ${why}`);

/** What same-as alone joins, reckoned another way: the groups of parts are merged until none changes. */
function sameGroup(partId: string, links: readonly Link[]): string[] {
  const group = new Map(partIds.map((id) => [id, id]));
  for (const _ of partIds)
    for (const each of links) {
      if (each.kind !== 'same as' || each.isWithdrawn) continue;
      const least = [group.get(each.fromId)!, group.get(each.toId)!].sort()[0]!;
      group.set(each.fromId, least);
      group.set(each.toId, least);
    }
  return partIds.filter((id) => group.get(id) === group.get(partId));
}

describe('what may serve in place of a part', () => {
  it('is what is the same both ways, what it became, and what will serve for any of these', () => {
    const links = [
      link('b', 'same as', 'a'),
      link('b', 'supersession', 'c'),
      link('c', 'same as', 'd'),
      link('e', 'will serve for', 'd'),
    ];
    expect(found('a', links)).toEqual(['a itself', 'b same as', 'c superseding', 'd superseding', 'e will serve for']);
  });

  it('prefers the path that rests on sameness alone to a shorter one through a supersession', () => {
    const links = [link('a', 'supersession', 'c'), link('a', 'same as', 'b'), link('b', 'same as', 'c')];
    expect(found('a', links)).toContain('c same as');
  });

  it('names a kit together with its other pieces, and goes no further through them', () => {
    const kit = { isKit: true, groupId: 'kit' };
    const links = [link('a', 'supersession', 'b', kit), link('a', 'supersession', 'c', kit), link('b', 'same as', 'd')];
    const { candidates } = whatMayServe('a', links);
    expect(candidates.slice(1)).toMatchObject([
      { partId: 'b', as: 'in a kit', together: ['c'] },
      { partId: 'c', as: 'in a kit', together: ['b'] },
    ]);
    expect(found('a', links)).toHaveLength(3);
  });

  it('refuses, with the reason, what a relation leads to and evidence does not', () => {
    const links = [
      link('b', 'supersession', 'a'),
      link('a', 'will serve for', 'c'),
      link('d', 'will serve for', 'a'),
      link('e', 'will serve for', 'd'),
      link('d', 'same as', 'f'),
      link('a', 'same as', 'g', { isWithdrawn: true }),
    ];
    expect(found('a', links)).toEqual(['a itself', 'd will serve for']);
    expect(refusals('a', links)).toEqual([
      'b older',
      'c one way',
      'e second will serve for',
      'f beyond will serve for',
      'g withdrawn',
    ]);
  });

  it('on any graph: ends, names no part twice, and each path goes from the part wanted to the candidate', () => {
    fc.assert(
      fc.property(anyGraph, anyPart, (links, wanted) => {
        const { candidates, refused } = whatMayServe(wanted, links);
        const named = [...candidates, ...refused].map(({ partId }) => partId);
        expect(new Set(named).size).toBe(named.length);
        for (const { partId, path } of [...candidates, ...refused]) {
          let at = wanted;
          for (const step of path) {
            expect([step.fromId, step.toId]).toContain(at);
            at = step.fromId === at ? step.toId : step.fromId;
          }
          expect(at).toBe(partId);
        }
      }),
      runs,
    );
  });

  it('on any graph: never uses a withdrawn relation, never two “will serve for”, and none but as the last step', () => {
    fc.assert(
      fc.property(anyGraph, anyPart, (links, wanted) => {
        for (const { path } of whatMayServe(wanted, links).candidates) {
          expect(path.filter((step) => step.isWithdrawn)).toEqual([]);
          expect(path.slice(0, -1).filter((step) => step.kind === 'will serve for' || step.isKit)).toEqual([]);
        }
      }),
      runs,
    );
  });

  it('on any graph: never goes back from the newer to the older', () => {
    fc.assert(
      fc.property(anyGraph, anyPart, (links, wanted) => {
        for (const { path } of whatMayServe(wanted, links).candidates) {
          let at = wanted;
          for (const step of path) {
            if (step.kind === 'supersession') expect(step.fromId).toBe(at);
            if (step.kind === 'will serve for') expect(step.toId).toBe(at);
            at = step.fromId === at ? step.toId : step.fromId;
          }
        }
      }),
      runs,
    );
  });

  it('on any graph: is the same both ways for what is the same, and finds all of it', () => {
    fc.assert(
      fc.property(anyGraph, anyPart, (links, wanted) => {
        const same = whatMayServe(wanted, links).candidates.filter(({ as }) => as === 'itself' || as === 'same as');
        expect(same.map(({ partId }) => partId).sort()).toEqual(sameGroup(wanted, links));
      }),
      runs,
    );
  });
});

describe('what a part became', () => {
  it('is the chain to what is current, which may be a kit', () => {
    const kit = { isKit: true, groupId: 'kit' };
    const links = [link('a', 'supersession', 'b'), link('b', 'supersession', 'c', kit), link('b', 'supersession', 'd', kit)];
    expect(chainFrom('a', links)).toMatchObject({ chain: ['a', 'b', 'c', 'd'], current: ['c', 'd'] });
    expect(chainFrom('c', links)).toBeNull();
  });

  it('ends on any graph, and holds no part twice', () => {
    fc.assert(
      fc.property(anyGraph, anyPart, (links, wanted) => {
        const found = chainFrom(
          wanted,
          links.filter((link) => link.kind === 'supersession'),
        );
        const single = (found?.chain ?? []).slice(0, -(found?.current.length ?? 0) || undefined);
        expect(new Set(single).size).toBe(single.length);
      }),
      runs,
    );
  });
});
