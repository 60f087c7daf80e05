import { type FreeStock, mostBuilds, type Plan, planOf, type TypeToBuild, type Workshop } from '@corewright/allocation/buildable';
import { type LackingProgram, oneMoreOf } from '@corewright/allocation/lacking';
import type { Buildable, BuildableQuery, BuildableType, OnDonors } from '@corewright/contracts/buildable';
import { Injectable } from '@nestjs/common';
import { buildStandardNamed, type StandardKept } from '../../catalogue/build-standards/build-standard.queries.js';
import { PartStock } from '../../catalogue/part-stock.js';
import { acceptedStock } from '../../catalogue/relations/by-standard.js';
import { serversOf } from '../../catalogue/relations/served-by.js';
import { Database, type Reader } from '../../platform/database/database.js';
import { IntegerPrograms } from '../../platform/solver/integer-programs.js';
import { type LineOfType, linesOfTypes, type TypeFacts, typesToBuild } from './buildable.queries.js';
import { donorWords, typeWords, wholeWords } from './buildable-words.js';
import { type DonorOfType, donorsOf, whyNothingOfCores } from './donors.js';

const typesMax = 50;

/** Answers how many complete rebuilds the stock allows, and which parts stop the next one. */
@Injectable()
export class BuildableAnswer {
  constructor(
    private readonly database: Database,
    private readonly stock: PartStock,
    private readonly programs: IntegerPrograms,
  ) {}

  async of(asked: BuildableQuery): Promise<Buildable> {
    const facts = await typesToBuild(this.database, asked.types, typesMax);
    if (facts.length === 0) return { types: [], total: 0, words: wholeWords(0, 0, asked), donors: null };
    const all = await linesOfTypes(
      this.database,
      facts.map(({ unitType }) => unitType.id),
    );
    const lines = all.filter((line) => isNeeded(line, asked));
    const standard = await buildStandardNamed(this.database, asked.standard);
    const stock = await this.freeStock(this.database, [...new Set(lines.map(({ part }) => part.id))], standard);
    const partIds = stock.map(({ id }) => id);
    const donors = asked.donors === 'left whole' ? [] : await donorsOf(this.database, partIds, standard);
    const workshop = { types: facts.map((each) => typeOf(each, lines)), stock, donors };
    const plan = planOf(workshop, await this.programs.solve(mostBuilds(workshop)));
    const lackingBy = oneMoreOf(workshop, plan);
    const answers = await Promise.all(facts.map((each) => this.answerOf(each, lackingBy(each.unitType.id), { plan, lines })));
    const total = totalOf(plan);
    return {
      types: answers,
      total,
      words: wholeWords(total, answers.length, asked),
      donors: asked.donors === 'left whole' ? null : await this.onDonors(workshop, donors, { plan, lines, standard }),
    };
  }

  /** How many of the rebuilds rest on cores that are broken: so many less can be built with all cores left whole. */
  private async onDonors(
    workshop: Workshop,
    donors: readonly DonorOfType[],
    { plan, lines, standard }: { plan: Plan; lines: readonly LineOfType[]; standard: StandardKept },
  ): Promise<OnDonors> {
    const leftWhole = { ...workshop, donors: [] };
    const certain = totalOf(planOf(leftWhole, await this.programs.solve(mostBuilds(leftWhole))));
    const broken = donors
      .map((donor) => ({ donor, count: plan.broken.get(donor.typeId) ?? 0 }))
      .filter(({ count }) => count > 0)
      .map(({ donor, count }) => ({
        unitType: donor.unitType,
        units: donor.units.slice(0, count),
        gives: givenBy(donor, count, workshop, lines),
      }));
    const [total, barred] = [totalOf(plan), whyNothingOfCores(standard)];
    const facts = { resting: total - certain, broken };
    return { ...facts, words: donorWords({ ...facts, total, hasDonors: donors.length > 0, barred }) };
  }

  /** What may go in, by its part: all that is accepted of it serves every part that it may stand for. */
  private async freeStock(reader: Reader, wanted: readonly string[], standard: StandardKept): Promise<FreeStock[]> {
    const serves = new Map<string, string[]>(wanted.map((partId) => [partId, [partId]]));
    for (const [wantedId, servers] of await serversOf(reader, wanted))
      for (const { part, ways } of servers)
        if (ways.every((way) => standard.ways.includes(way))) serves.set(part.id, [...(serves.get(part.id) ?? []), wantedId]);
    const accepted = acceptedStock(await this.stock.freeLotsOf(reader, [...serves.keys()]), standard);
    return [...serves].map(([id, partIds]) => ({ id, quantity: Number(accepted.get(id)?.free ?? '0'), serves: partIds }));
  }

  private async answerOf(
    { unitType, cores }: TypeFacts,
    program: LackingProgram,
    { plan, lines }: { plan: Plan; lines: readonly LineOfType[] },
  ): Promise<BuildableType> {
    const next = program.read(program.text === null ? new Map() : await this.programs.solve(program.text));
    const byPart = new Map(lines.map((line) => [line.part.id, line]));
    const parts = next.parts.flatMap(({ partId, quantity }) => {
      const line = byPart.get(partId);
      return line === undefined ? [] : [{ part: line.part, unitOfMeasure: line.unitOfMeasure, quantity: exact(quantity) }];
    });
    const answer = { unitType, cores, builds: plan.builds.get(unitType.id) ?? 0, lacking: { cores: next.cores, parts } };
    return { ...answer, words: typeWords(answer) };
  }
}

function isNeeded({ critical, reusable }: LineOfType, { lines, own }: BuildableQuery): boolean {
  return (lines === 'all' || critical) && !(own === 'used again' && reusable);
}

function typeOf({ unitType, cores }: TypeFacts, lines: readonly LineOfType[]): TypeToBuild {
  const needs = lines
    .filter(({ typeId }) => typeId === unitType.id)
    .map(({ part, quantity }) => ({ partId: part.id, quantity: Number(quantity) }));
  return { id: unitType.id, cores, needs };
}

function totalOf({ builds }: Plan): number {
  return [...builds.values()].reduce((sum, count) => sum + count, 0);
}

/** The parts that so many cores surely give, under the names of the lines that they fill. */
function givenBy(
  { gives }: DonorOfType,
  count: number,
  { stock }: Workshop,
  lines: readonly LineOfType[],
): OnDonors['broken'][number]['gives'] {
  return gives.flatMap(({ stockId, byCores }) => {
    const fills = stock.find(({ id }) => id === stockId)?.serves ?? [];
    const line = lines.find(({ part }) => part.id === stockId) ?? lines.find(({ part }) => fills.includes(part.id));
    const pieces = byCores[count - 1] ?? 0;
    return line === undefined || pieces === 0 ? [] : [{ part: line.part, pieces }];
  });
}

/** Four places, as quantities have: what is beyond them is the solver's. */
function exact(quantity: number): string {
  return quantity.toFixed(4).replace(/\.?0+$/, '');
}
