import { RequestMethod } from '@nestjs/common';
import { METHOD_METADATA, PATH_METADATA, ROUTE_ARGS_METADATA, SSE_METADATA } from '@nestjs/common/constants.js';
import { RouteParamtypes } from '@nestjs/common/enums/route-paramtypes.enum.js';
import { CLASS_SERIALIZER_OPTIONS } from '@nestjs/common/serializer/class-serializer.constants.js';
import { ModulesContainer } from '@nestjs/core';
import type { NestExpressApplication } from '@nestjs/platform-express';
import { ALLOWED, PUBLIC } from '../../apps/api/src/platform/access/signed-in.js';

/** What the server itself knows of one of its routes. */
export interface RouteFacts {
  /** `GET /api/people/:id` */
  name: string;
  method: string;
  path: string;
  handler: string;
  isPublic: boolean;
  roles: readonly string[] | null;
  isStream: boolean;
  declaresAnswer: boolean;
  /** parameters from the request's body, query or path that nothing checks */
  unchecked: string[];
}

type Handler = (...args: unknown[]) => unknown;
interface Parameter {
  schema?: unknown;
}

const checkedKinds: Readonly<Record<number, string>> = {
  [RouteParamtypes.BODY]: 'Body',
  [RouteParamtypes.QUERY]: 'Query',
  [RouteParamtypes.PARAM]: 'Param',
};

/** Walks every controller of the running server. */
export function routesOf(app: NestExpressApplication): RouteFacts[] {
  const controllers = [...app.get(ModulesContainer).values()].flatMap((module) => [...module.controllers.values()]);
  const types = new Set(
    controllers.flatMap((wrapper) => (typeof wrapper.metatype === 'function' ? [wrapper.metatype as Handler] : [])),
  );
  return [...types].flatMap((type) => handlersOf(type).map((name) => factsOf(type, name)));
}

function handlersOf(type: Handler): string[] {
  const prototype = type.prototype as Record<string, unknown>;
  return Object.getOwnPropertyNames(prototype).filter(
    (name) => typeof prototype[name] === 'function' && Reflect.hasMetadata(METHOD_METADATA, prototype[name] as Handler),
  );
}

function factsOf(type: Handler, name: string): RouteFacts {
  const handler = (type.prototype as Record<string, Handler>)[name] as Handler;
  const of = (key: string): unknown => Reflect.getMetadata(key, handler) ?? Reflect.getMetadata(key, type);
  const method = RequestMethod[Reflect.getMetadata(METHOD_METADATA, handler) as number] ?? 'unknown';
  const path = ['/api', Reflect.getMetadata(PATH_METADATA, type), Reflect.getMetadata(PATH_METADATA, handler)]
    .map((part) => String(part ?? '').replace(/^\/+|\/+$/g, ''))
    .filter((part) => part !== '')
    .join('/');
  const options = Reflect.getMetadata(CLASS_SERIALIZER_OPTIONS, handler) as Parameter | undefined;
  return {
    name: `${method} /${path}`,
    method,
    path: `/${path}`,
    handler: `${type.name}.${name}`,
    isPublic: of(PUBLIC) === true,
    roles: (of(ALLOWED) as readonly string[] | undefined) ?? null,
    isStream: Reflect.getMetadata(SSE_METADATA, handler) === true,
    declaresAnswer: options?.schema !== undefined,
    unchecked: uncheckedOf(type, name),
  };
}

function uncheckedOf(type: Handler, name: string): string[] {
  const parameters = (Reflect.getMetadata(ROUTE_ARGS_METADATA, type, name) ?? {}) as Record<string, Parameter>;
  return Object.entries(parameters).flatMap(([key, parameter]) => {
    const kind = checkedKinds[Number(key.split(':')[0])];
    return kind !== undefined && parameter.schema === undefined ? [`${kind} ${key}`] : [];
  });
}

/** The path with something in each of its parameters. */
export function pathWithParameters(path: string): string {
  return path
    .replace(/:day\b/g, '2026-12-25')
    .replace(/:code\b/g, 'L00000105')
    .replace(/:\w+/g, '01931f5e-7a00-7000-8000-000000000001');
}
