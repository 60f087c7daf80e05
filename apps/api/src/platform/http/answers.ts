import { applyDecorators, SerializeOptions } from '@nestjs/common';
import { ApiOkResponse } from '@nestjs/swagger';
import type * as z from 'zod';

/**
 * Declares what a route answers: documented, checked, and cut to what is declared on the way out.
 * HTTP 200 throughout: a command that is sent again answers as it did the first time.
 */
export function Answers(schema: z.ZodType): MethodDecorator {
  return applyDecorators(
    SerializeOptions({ schema }),
    ApiOkResponse({ standardSchema: schema } as Parameters<typeof ApiOkResponse>[0]),
  );
}
