import { newId } from '../../apps/api/src/platform/new-id.js';
import type {
  Acceptance,
  AcceptancesOfUnit,
  AcceptanceTerms,
  CoreAnswer,
  CorePoint,
} from '../../libs/contracts/src/acceptance.js';
import type { Answer, Visitor } from './bare-server.js';
import type { Made, Stock } from './stock.js';
import { type Problem, unitTypeOf } from './strip-bench.js';

const asked: Record<CorePoint, string> = {
  complete: 'all that the parts list names, nuts and studs apart',
  assembled: 'bolted up as it came out',
  cracks: 'none in the casing or the carrier',
  holes: 'none, and no thread stripped past an insert',
  heat: 'no blueing, no melted bush',
  weld: 'none but the maker’s own',
};

/** One that stands by a type with three components that must be re-usable, of 45, 20 and 12.5 percent, and 200 for a full core. */
export class AcceptanceDesk {
  private constructor(
    private readonly hands: Visitor,
    private readonly stock: Stock,
    readonly typeId: string,
  ) {}

  /** @param hands one who keeps the books */
  static async open(hands: Visitor, stock: Stock): Promise<AcceptanceDesk> {
    const typeId = await unitTypeOf(stock, [
      { name: 'Worm set' },
      { name: 'Carrier' },
      { name: 'Half shaft' },
      { name: 'Shims' },
    ]);
    const desk = new AcceptanceDesk(hands, stock, typeId);
    const written = await desk.write(desk.terms(), 0);
    if (written.status !== 200) throw new Error(`The terms were refused: ${JSON.stringify(written.body)}`);
    return desk;
  }

  get termsPath(): string {
    return `/api/unit-types/${this.typeId}/acceptance`;
  }

  /** The same desk under other hands. */
  under(hands: Visitor): AcceptanceDesk {
    return new AcceptanceDesk(hands, this.stock, this.typeId);
  }

  terms(more: Record<string, unknown> = {}): Record<string, unknown> {
    const shares = [
      { position: 1, share: '45' },
      { position: 2, share: '20' },
      { position: 3, share: '12.5' },
    ];
    return { points: asked, shares, fullCredit: '200', ...more };
  }

  write(terms: Record<string, unknown>, ifMatch?: number): Promise<Answer<AcceptanceTerms & Problem>> {
    return this.hands.put(this.termsPath, terms, ifMatch === undefined ? {} : { ifMatch });
  }

  unit(): Promise<Made> {
    return this.stock.unit({ unitTypeId: this.typeId });
  }

  /** A sheet on which all is well but for what is named. */
  sheet(
    answers: Partial<Record<CorePoint | 1 | 2 | 3, CoreAnswer>> = {},
    more: Record<string, unknown> = {},
  ): Record<string, unknown> & { id: string } {
    const points = (Object.keys(asked) as CorePoint[]).map((point) => ({ point, answer: answers[point] ?? 'yes' }));
    const components = ([1, 2, 3] as const).map((position) => ({ position, answer: answers[position] ?? 'yes' }));
    return { id: newId(), termsVersion: 1, points, components, ...more };
  }

  fillIn(unitId: string, sheet: Record<string, unknown>): Promise<Answer<Acceptance & Problem>> {
    return this.hands.post(`/api/units/${unitId}/acceptances`, sheet);
  }

  async filled(unitId: string, ...said: Parameters<AcceptanceDesk['sheet']>): Promise<Acceptance> {
    const answer = await this.fillIn(unitId, this.sheet(...said));
    if (answer.status !== 200) throw new Error(`The sheet was refused: ${JSON.stringify(answer.body)}`);
    return answer.body;
  }

  decide(id: string, grade: string, credit: string, why = ''): Promise<Answer<Acceptance & Problem>> {
    return this.hands.post(`/api/acceptances/${id}/decision`, { grade, credit, why });
  }

  async ofUnit(unitId: string): Promise<AcceptancesOfUnit> {
    return (await this.hands.get<AcceptancesOfUnit>(`/api/units/${unitId}/acceptances`)).body;
  }
}
