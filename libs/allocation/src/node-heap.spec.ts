import fc from 'fast-check';
import { NodeHeap } from './node-heap.js';

describe('nodes by nearness', () => {
  it('come out nearest first, whatever came nearer after it was taken in', () => {
    fc.assert(
      fc.property(fc.array(fc.tuple(fc.nat({ max: 9 }), fc.nat({ max: 20 })), { maxLength: 40 }), (nearings) => {
        const distance = Array<number>(10).fill(Number.POSITIVE_INFINITY);
        const heap = new NodeHeap(
          10,
          (one, other) => distance[one]! < distance[other]! || (distance[one] === distance[other] && one < other),
        );
        for (const [node, by] of nearings) {
          distance[node] = Math.min(distance[node]!, by);
          heap.raise(node);
        }
        const wanted = [...distance.keys()].filter((node) => distance[node]! < Number.POSITIVE_INFINITY);
        wanted.sort((one, other) => distance[one]! - distance[other]! || one - other);
        const taken: number[] = [];
        for (let node = heap.take(); node !== -1; node = heap.take()) taken.push(node);
        expect(taken).toEqual(wanted);
      }),
    );
  });

  it('is empty once it is cleared, and takes in again what it had', () => {
    const heap = new NodeHeap(3, (one, other) => one < other);
    for (const node of [2, 0, 1]) heap.raise(node);
    heap.clear();
    expect(heap.take()).toBe(-1);
    for (const node of [1, 2]) heap.raise(node);
    expect([heap.take(), heap.take(), heap.take()]).toEqual([1, 2, -1]);
  });
});
