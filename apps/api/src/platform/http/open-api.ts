import type { NestExpressApplication } from '@nestjs/platform-express';
import { DocumentBuilder, type OpenAPIObject, SwaggerModule } from '@nestjs/swagger';
import type { Config } from '../config/config.js';

/** The OpenAPI 3.1 document, made from the contracts that the routes declare; built when first asked for. */
export function useOpenApi(app: NestExpressApplication, config: Config): void {
  let document: OpenAPIObject | null = null;
  app.use('/api/openapi.json', (_request: unknown, response: { json(body: unknown): void }) => {
    document ??= describe(app, config);
    response.json(document);
  });
}

function describe(app: NestExpressApplication, config: Config): OpenAPIObject {
  const outline = new DocumentBuilder().setTitle('Corewright').setVersion(config.version).setOpenAPIVersion('3.1.0').build();
  return SwaggerModule.createDocument(app, outline);
}
