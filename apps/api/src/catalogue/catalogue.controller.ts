import { IdParam } from '@corewright/contracts/base';
import { GradeList, PartList, PartPage, SearchQuery, UnitTypeList, UnitTypeQuery } from '@corewright/contracts/catalogue';
import { Controller, Get, Param, Query, UseInterceptors } from '@nestjs/common';
import type * as z from 'zod';
import { Allow, everyone } from '../platform/access/signed-in.js';
import { Database } from '../platform/database/database.js';
import { Answers } from '../platform/http/answers.js';
import { NextPageLink } from '../platform/http/next-page.js';
import { notFound, RefusalError } from '../platform/refusal.js';
import { partPage, partsLike } from './part.queries.js';
import { PartStock } from './part-stock.js';
import { relationsOfPart, successorsOf } from './relations/relation.queries.js';
import { allGrades, unitTypesLike } from './unit-type.queries.js';

@Controller()
@Allow(everyone)
export class CatalogueController {
  constructor(
    private readonly database: Database,
    private readonly stock: PartStock,
  ) {}

  @Get('parts')
  @Answers(PartList)
  @UseInterceptors(NextPageLink)
  async parts(@Query({ schema: SearchQuery }) query: z.infer<typeof SearchQuery>): Promise<z.infer<typeof PartList>> {
    const page = await partsLike(this.database, query.q, query.limit, query.cursor);
    const free = await this.stock.freeOf(
      this.database,
      page.parts.map((part) => part.id),
    );
    return { parts: page.parts.map((part) => ({ ...part, free: free.get(part.id) ?? '0' })), cursor: page.cursor };
  }

  @Get('parts/:id')
  @Answers(PartPage)
  async part(@Param({ schema: IdParam }) param: z.infer<typeof IdParam>): Promise<PartPage> {
    const part = await partPage(this.database, param.id);
    if (part === null) throw new RefusalError(notFound('That part'));
    const [lots, receipts, relations, successors] = await Promise.all([
      this.stock.lotsOf(this.database, part.id),
      this.stock.receiptsOf(this.database, part.id),
      relationsOfPart(this.database, part.id),
      successorsOf(this.database, [part.id]),
    ]);
    return { ...part, lots, receipts, relations, successor: successors.get(part.id) ?? null };
  }

  @Get('unit-types')
  @Answers(UnitTypeList)
  async unitTypes(@Query({ schema: UnitTypeQuery }) query: z.infer<typeof UnitTypeQuery>): Promise<z.infer<typeof UnitTypeList>> {
    return { unitTypes: await unitTypesLike(this.database, query.q) };
  }

  @Get('grades')
  @Answers(GradeList)
  async grades(): Promise<z.infer<typeof GradeList>> {
    return { grades: await allGrades(this.database) };
  }
}
