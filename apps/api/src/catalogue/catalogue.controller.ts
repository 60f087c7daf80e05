import { IdParam } from '@corewright/contracts/base';
import { MakerList, PartList, PartPage, PartQuery, UnitTypeList, UnitTypeQuery } from '@corewright/contracts/catalogue';
import { KnownTypeList } from '@corewright/contracts/identify';
import { Controller, Get, Param, Query, UseInterceptors } from '@nestjs/common';
import type * as z from 'zod';
import { Allow, everyone } from '../platform/access/signed-in.js';
import { Database } from '../platform/database/database.js';
import { Answers } from '../platform/http/answers.js';
import { NextPageLink } from '../platform/http/next-page.js';
import { notFound, RefusalError } from '../platform/refusal.js';
import { knownTypes } from './known-types.queries.js';
import { allMakers } from './maker.queries.js';
import { partPage } from './part.queries.js';
import { PartStock } from './part-stock.js';
import { relationsOfPart, successorsOf } from './relations/relation.queries.js';
import { PartSearch } from './search/part-search.js';
import { unitTypesLike } from './unit-type.queries.js';

@Controller()
@Allow(everyone)
export class CatalogueController {
  constructor(
    private readonly database: Database,
    private readonly stock: PartStock,
    private readonly search: PartSearch,
  ) {}

  @Get('parts')
  @Answers(PartList)
  @UseInterceptors(NextPageLink)
  async parts(@Query({ schema: PartQuery }) query: z.infer<typeof PartQuery>): Promise<z.infer<typeof PartList>> {
    const { parts, ...page } = await this.search.find({ ...query, keyed: query.q });
    return { ...page, parts: parts.map(({ rank: _rank, place: _place, ...part }) => part) };
  }

  @Get('parts/:id')
  @Answers(PartPage)
  async part(@Param({ schema: IdParam }) param: z.infer<typeof IdParam>): Promise<PartPage> {
    const part = await partPage(this.database, param.id);
    if (part === null) throw new RefusalError(notFound('That part'));
    const main = part.numbers.find((number) => number.isMain);
    const [lots, receipts, relations, successors] = await Promise.all([
      this.stock.lotsOf(this.database, part.id),
      this.stock.receiptsOf(this.database, part.id),
      relationsOfPart(this.database, part.id),
      successorsOf(this.database, [{ id: part.id, name: part.name, number: main?.number ?? '', maker: main?.maker ?? '' }]),
    ]);
    return { ...part, lots, receipts, relations, successor: successors.get(part.id) ?? null };
  }

  @Get('makers')
  @Answers(MakerList)
  async makers(): Promise<z.infer<typeof MakerList>> {
    return { makers: await allMakers(this.database) };
  }

  @Get('unit-types')
  @Answers(UnitTypeList)
  async unitTypes(@Query({ schema: UnitTypeQuery }) query: z.infer<typeof UnitTypeQuery>): Promise<z.infer<typeof UnitTypeList>> {
    return { unitTypes: await unitTypesLike(this.database, query.q) };
  }

  @Get('unit-types/known-by')
  @Answers(KnownTypeList)
  async knownBy(): Promise<z.infer<typeof KnownTypeList>> {
    return { types: await knownTypes(this.database) };
  }
}
