import type { RelationKind } from '@corewright/contracts/relations';
import { bearingsOf, type PartBearings } from '../catalogue/bearings/part-bearings.js';
import type { LaterStep, LiveRelation } from '../catalogue/relations/decide-relation.js';
import { aloneWithSupersessions } from '../catalogue/relations/record-relation.handler.js';
import { laterSupersessions } from '../catalogue/relations/relation.queries.js';
import type { Transaction } from '../platform/commands/unit-of-work.js';

interface Outgoing {
  kind: RelationKind;
  toId: string;
  isLive: boolean;
}

const selectOutgoing = `
  SELECT kind, from_part_id AS "fromId", to_part_id AS "toId", withdrawn_at IS NULL AS "isLive"
    FROM relations WHERE from_part_id = ANY ($1::uuid[])`;
const selectLater = `${laterSupersessions} SELECT from_part_id AS "fromId", to_part_id AS "toId" FROM later`;
const selectNumbers = `SELECT part_id AS id, number FROM part_numbers WHERE is_main AND part_id = ANY ($1::uuid[])`;

/** The relations that matter to a batch of rows, looked up in one go, with those that the batch itself adds. */
export class KnownRelations {
  private readonly outgoing = new Map<string, Outgoing[]>();
  /** what became of a part, and of that, to the end */
  private readonly later = new Map<string, string[]>();
  private readonly numbers = new Map<string, string>();
  private isAlone = false;
  private partIds: readonly string[] = [];
  private asBearings: Promise<PartBearings> | null = null;

  constructor(private readonly transaction: Transaction) {}

  /** Forgets what was looked up before. Whatever is decided on what is read here stays true until the import ends. */
  async lookUp(partIds: readonly string[]): Promise<void> {
    for (const kept of [this.outgoing, this.later, this.numbers]) kept.clear();
    this.partIds = partIds;
    this.asBearings = null;
    if (!this.isAlone) aloneWithSupersessions(this.transaction);
    this.isAlone = true;
    const [outgoing, later] = await Promise.all([
      this.transaction.rows<Outgoing & { fromId: string }>(selectOutgoing, [partIds]),
      this.transaction.rows<{ fromId: string; toId: string }>(selectLater, [partIds]),
    ]);
    for (const { fromId, ...relation } of outgoing) gather(this.outgoing, fromId, relation);
    for (const { fromId, toId } of later) gather(this.later, fromId, toId);
    const named = [...new Set([...outgoing, ...later].map(({ toId }) => toId))];
    for (const { id, number } of await this.transaction.rows<{ id: string; number: string }>(selectNumbers, [named]))
      this.numbers.set(id, number);
  }

  /** Whether all of this is on the record, withdrawn or not: what a person took back does not come in again. */
  hold(kind: RelationKind, fromId: string, toIds: readonly string[]): boolean {
    const known = new Set(
      toIds.filter(
        (toId) =>
          this.find(kind, fromId, toId) !== undefined || (kind === 'same as' && this.find(kind, toId, fromId) !== undefined),
      ),
    );
    return known.size === toIds.length;
  }

  /** What stands around a relation that is asked for, as the rule of the screens takes it. */
  around(fromId: string, toIds: readonly string[]): { live: LiveRelation[]; later: LaterStep[] } {
    const live = [fromId, ...toIds].flatMap((id) =>
      (this.outgoing.get(id) ?? [])
        .filter((each) => each.isLive && (id === fromId || each.toId === fromId))
        .map(({ kind, toId }) => ({ kind, fromId: id, toId, toNumber: this.numbers.get(toId) ?? '' })),
    );
    return { live, later: this.laterThan(toIds) };
  }

  /** What the table of bearings has of the parts of the batch, looked up once, when the first row asks whether two are the same. */
  bearings(): Promise<PartBearings> {
    this.asBearings ??= bearingsOf(this.transaction, this.partIds);
    return this.asBearings;
  }

  add(kind: RelationKind, fromId: string, to: readonly { id: string; number: string }[]): void {
    for (const { id: toId, number } of to) {
      gather(this.outgoing, fromId, { kind, toId, isLive: true });
      if (kind === 'supersession') gather(this.later, fromId, toId);
      this.numbers.set(toId, number);
    }
  }

  private find(kind: RelationKind, fromId: string, toId: string): Outgoing | undefined {
    return this.outgoing.get(fromId)?.find((each) => each.kind === kind && each.toId === toId);
  }

  private laterThan(partIds: readonly string[]): LaterStep[] {
    const steps: LaterStep[] = [];
    const reached = new Set(partIds);
    for (const fromId of reached)
      for (const toId of this.later.get(fromId) ?? []) {
        steps.push({ fromId, toId, toNumber: this.numbers.get(toId) ?? '' });
        reached.add(toId);
      }
    return steps;
  }
}

function gather<Entry>(into: Map<string, Entry[]>, key: string, entry: Entry): void {
  const there = into.get(key);
  if (there) there.push(entry);
  else into.set(key, [entry]);
}
