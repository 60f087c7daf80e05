import { IdParam } from '@corewright/contracts/base';
import { EditFindingWord, FindingWord, FindingWordList } from '@corewright/contracts/cores';
import { Body, Controller, Get, Param, Put } from '@nestjs/common';
import type * as z from 'zod';
import { Allow, everyone, keepers } from '../../platform/access/signed-in.js';
import { type Command, Issued } from '../../platform/commands/command.js';
import { UnitOfWork } from '../../platform/commands/unit-of-work.js';
import { Database } from '../../platform/database/database.js';
import { Answers } from '../../platform/http/answers.js';
import { editFindingWord, findingWords } from './finding-words.js';

@Controller('finding-words')
export class FindingWordsController {
  constructor(
    private readonly database: Database,
    private readonly unitOfWork: UnitOfWork,
  ) {}

  @Get()
  @Allow(everyone)
  @Answers(FindingWordList)
  async list(): Promise<z.infer<typeof FindingWordList>> {
    return { words: await findingWords(this.database) };
  }

  @Put(':id')
  @Allow(keepers)
  @Answers(FindingWord)
  edit(
    @Issued() command: Command,
    @Param({ schema: IdParam }) param: { id: string },
    @Body({ schema: EditFindingWord }) body: EditFindingWord,
  ): Promise<FindingWord> {
    return this.unitOfWork.run(command, (transaction) => editFindingWord(transaction, param.id, body));
  }
}
