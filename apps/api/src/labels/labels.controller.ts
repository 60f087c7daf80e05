import { IdParam } from '@corewright/contracts/base';
import {
  CodeBlock,
  CodeBlockList,
  CodeParam,
  CommandCardsQuery,
  EditLabelPrinter,
  LabelPrinter,
  LabelPrinterList,
  LabelRun,
  LabelText,
  SetCodesAside,
  StartLabelRun,
} from '@corewright/contracts/labels';
import { Body, Controller, Get, Header, HttpCode, Param, Post, Put, Query, StreamableFile } from '@nestjs/common';
import { ApiOkResponse } from '@nestjs/swagger';
import type * as z from 'zod';
import { Allow, everyone, hands, keepers } from '../platform/access/signed-in.js';
import { type Command, Issued } from '../platform/commands/command.js';
import { UnitOfWork } from '../platform/commands/unit-of-work.js';
import { Database } from '../platform/database/database.js';
import { Answers } from '../platform/http/answers.js';
import { notFound, RefusalError } from '../platform/refusal.js';
import { openBlocks } from './blanks/code-block.queries.js';
import { SetCodesAsideHandler } from './blanks/set-codes-aside.handler.js';
import { EditPrinterHandler } from './edit-printer/edit-printer.handler.js';
import { LabelRuns } from './label-run.service.js';
import { LabelTexts } from './label-text.js';
import { allPrinters } from './printer.queries.js';
import { StartRunHandler } from './start-run/start-run.handler.js';

const pdfAnswer = { content: { 'application/pdf': { schema: { type: 'string', format: 'binary' } } } } as const;

@Controller()
export class LabelsController {
  constructor(
    private readonly database: Database,
    private readonly unitOfWork: UnitOfWork,
    private readonly texts: LabelTexts,
    private readonly runs: LabelRuns,
    private readonly startRun: StartRunHandler,
    private readonly editPrinter: EditPrinterHandler,
    private readonly setAside: SetCodesAsideHandler,
  ) {}

  @Get('labels/:code')
  @Allow(everyone)
  @Answers(LabelText)
  label(@Param({ schema: CodeParam }) param: z.infer<typeof CodeParam>): Promise<LabelText> {
    return this.texts.of(param.code);
  }

  @Get('label-printers')
  @Allow(everyone)
  @Answers(LabelPrinterList)
  async printers(): Promise<z.infer<typeof LabelPrinterList>> {
    return { printers: await allPrinters(this.database) };
  }

  @Put('label-printers/:id')
  @Allow(keepers)
  @Answers(LabelPrinter)
  @HttpCode(200)
  edit(
    @Issued() command: Command,
    @Param({ schema: IdParam }) param: z.infer<typeof IdParam>,
    @Body({ schema: EditLabelPrinter }) body: z.infer<typeof EditLabelPrinter>,
  ): Promise<LabelPrinter> {
    return this.unitOfWork.run(command, (transaction) => this.editPrinter.handle(transaction, param.id, body));
  }

  @Get('code-blocks')
  @Allow(everyone)
  @Answers(CodeBlockList)
  async blocks(): Promise<z.infer<typeof CodeBlockList>> {
    return { blocks: await openBlocks(this.database) };
  }

  @Post('code-blocks')
  @Allow(hands)
  @Answers(CodeBlock)
  @HttpCode(200)
  setCodesAside(
    @Issued() command: Command,
    @Body({ schema: SetCodesAside }) body: z.infer<typeof SetCodesAside>,
  ): Promise<CodeBlock> {
    return this.unitOfWork.run(command, (transaction) => this.setAside.handle(transaction, body));
  }

  @Post('label-runs')
  @Allow(hands)
  @Answers(LabelRun)
  @HttpCode(200)
  start(@Issued() command: Command, @Body({ schema: StartLabelRun }) body: z.infer<typeof StartLabelRun>): Promise<LabelRun> {
    return this.unitOfWork.run(command, (transaction) => this.startRun.handle(transaction, body));
  }

  @Get('label-runs/:id/pdf')
  @Allow(everyone)
  @ApiOkResponse(pdfAnswer)
  @Header('cache-control', 'private, no-store')
  async pdf(@Param({ schema: IdParam }) param: z.infer<typeof IdParam>): Promise<StreamableFile> {
    const pdf = await this.runs.pdf(param.id);
    if (pdf === null) throw new RefusalError(notFound('That run of labels'));
    return documentOf(pdf, 'labels.pdf');
  }

  @Get('command-cards.pdf')
  @Allow(everyone)
  @ApiOkResponse(pdfAnswer)
  @Header('cache-control', 'private, no-store')
  async cards(@Query({ schema: CommandCardsQuery }) query: z.infer<typeof CommandCardsQuery>): Promise<StreamableFile> {
    return documentOf(await this.runs.commandCards(query.stock, query.dotsPerInch), 'command-cards.pdf');
  }
}

/** Shown in the browser, from where it is printed; kept under that name by whoever keeps it. */
function documentOf(pdf: Buffer, name: string): StreamableFile {
  return new StreamableFile(pdf, { type: 'application/pdf', disposition: `inline; filename="${name}"`, length: pdf.length });
}
