import { Module } from '@nestjs/common';
import { IntegerPrograms } from '../platform/solver/integer-programs.js';
import { BuildableController } from './buildable/buildable.controller.js';
import { BuildableAnswer } from './buildable/buildable.service.js';

@Module({ controllers: [BuildableController], providers: [BuildableAnswer, IntegerPrograms] })
export class CoverageModule {}
