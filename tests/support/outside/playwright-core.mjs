export const { chromium } = await globalThis.importOutside('playwright-core');
