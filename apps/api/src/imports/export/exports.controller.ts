import { Readable } from 'node:stream';
import { ExportParam } from '@corewright/contracts/imports';
import { Controller, Get, Header, Param, StreamableFile } from '@nestjs/common';
import { ApiOkResponse } from '@nestjs/swagger';
import type * as z from 'zod';
import { Allow, keepers } from '../../platform/access/signed-in.js';
import { csvOf } from '../../platform/csv/write-csv.js';
import { Database } from '../../platform/database/database.js';
import { readerOf } from '../readers.js';
import { exportedFiles, exportedRecords } from './exported-files.js';

@Controller('exports')
export class ExportsController {
  constructor(private readonly database: Database) {}

  /** One file of the books, in the columns in which it can be brought in again; or a record that is only taken out. */
  @Get(':file')
  @Allow(keepers)
  @ApiOkResponse({ description: 'The file.', content: { 'text/csv': { schema: { type: 'string' } } } })
  @Header('cache-control', 'private, no-store')
  file(@Param({ schema: ExportParam }) param: z.infer<typeof ExportParam>): StreamableFile {
    const { columns, text } =
      param.file === 'sales'
        ? exportedRecords[param.file]
        : { columns: readerOf(param.file).columns.map(({ name }) => name), text: exportedFiles[param.file] };
    return new StreamableFile(Readable.from(csvOf(this.database.pool, columns, text)), {
      type: 'text/csv; charset=utf-8; header=present',
      disposition: `attachment; filename="${param.file}.csv"`,
    });
  }
}
