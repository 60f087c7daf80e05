export const { ModulesContainer } = await globalThis.importOutside('@nestjs/core');
