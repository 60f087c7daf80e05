import { newId } from '../../apps/api/src/platform/new-id.js';
import type { Disposition, RecordStripFinding, StripDown, StripFindingDone } from '../../libs/contracts/src/cores.js';
import type { Answer, Visitor } from './bare-server.js';
import type { Made, Stock } from './stock.js';

export interface Expected {
  name: string;
  quantity?: string;
  partId?: string | null;
  mustBeLookedAt?: boolean;
  usualFate?: Disposition | null;
  keptSet?: string;
  keepsThickness?: boolean;
}

export interface Problem {
  code: string;
  title: string;
  detail: string;
  values?: Record<string, unknown>;
}

/** A unit type whose components stand at the positions 1, 2, 3 … */
export async function unitTypeOf(stock: Stock, components: readonly Expected[]): Promise<string> {
  const id = newId();
  await stock.query(
    "INSERT INTO unit_types (id, reference, maker_id, kind, model) SELECT $1, $2, min(id::text)::uuid, 'overhead-worm axle', 'WD7' FROM makers",
    [id, `WD7 ${id}`],
  );
  for (const [index, each] of components.entries())
    await stock.query(
      `INSERT INTO unit_type_components (unit_type_id, position, name, quantity, part_id, must_be_looked_at, usual_fate, kept_set, keeps_thickness)
       VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9)`,
      [
        id,
        index + 1,
        each.name,
        each.quantity ?? '1',
        each.partId ?? null,
        each.mustBeLookedAt ?? false,
        each.usualFate === undefined ? 'left in place' : each.usualFate,
        each.keptSet ?? '',
        each.keepsThickness ?? false,
      ],
    );
  return id;
}

/** Hands at a bench on which a unit lies open. */
export class StripBench {
  constructor(
    private readonly hands: Visitor,
    readonly id: string,
  ) {}

  static async open(hands: Visitor, unit: Made): Promise<StripBench> {
    const id = newId();
    const begun = await hands.post(`/api/units/${unit.id}/strip-downs`, { id });
    if (begun.status !== 200) throw new Error(`The strip-down was refused: ${JSON.stringify(begun.body)}`);
    return new StripBench(hands, id);
  }

  /** The same bench under other hands. */
  under(hands: Visitor): StripBench {
    return new StripBench(hands, this.id);
  }

  record(
    position: number | null,
    disposition: Disposition | null,
    more: Partial<RecordStripFinding> = {},
  ): Promise<Answer<StripFindingDone>> {
    const body = { id: newId(), position, quantity: '1', disposition, ...more };
    return this.hands.post<StripFindingDone>(`/api/strip-downs/${this.id}/findings`, body);
  }

  async recorded(...asked: Parameters<StripBench['record']>): Promise<StripFindingDone> {
    const answer = await this.record(...asked);
    if (answer.status !== 200) throw new Error(`The finding was refused: ${JSON.stringify(answer.body)}`);
    return answer.body;
  }

  async refused(...asked: Parameters<StripBench['record']>): Promise<Problem> {
    const answer = await this.record(...asked);
    if (answer.status === 200) throw new Error('The finding was taken');
    return answer.body as unknown as Problem;
  }

  rest<Body = Record<string, unknown>>(placeId: string | null, ownersWord = ''): Promise<Answer<Body>> {
    return this.hands.post<Body>(`/api/strip-downs/${this.id}/usual-fate`, { placeId, ownersWord });
  }

  finish<Body = Record<string, unknown>>(): Promise<Answer<Body>> {
    return this.hands.post<Body>(`/api/strip-downs/${this.id}/finish`, {});
  }

  async shown(): Promise<StripDown> {
    return (await this.hands.get<StripDown>(`/api/strip-downs/${this.id}`)).body;
  }
}
