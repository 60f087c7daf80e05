import type { Type } from '@nestjs/common';
import { PeopleModule } from './people/people.module.js';

/** The areas of the server in their order: each imports only from those before it. */
export const areas: Type[] = [PeopleModule];
