import { fileURLToPath } from 'node:url';
import react from '@vitejs/plugin-react';
import { defineConfig } from 'vite';

const libs = fileURLToPath(new URL('../../libs', import.meta.url));

/**
 * The libraries are taken from their sources, so that the web app builds without building them first.
 * The server puts a fresh nonce in place of `__CSP_NONCE__` each time it sends the page.
 */
export default defineConfig({
  plugins: [react()],
  resolve: { alias: [{ find: /^@corewright\/([^/]+)\/(.+)$/, replacement: `${libs}/$1/src/$2.ts` }] },
  html: { cspNonce: '__CSP_NONCE__' },
  build: {
    outDir: 'dist',
    emptyOutDir: true,
    target: 'es2022',
    assetsInlineLimit: 0,
    sourcemap: false,
    // The symbol encoder is large, and fetched only where a label's proof is shown.
    chunkSizeWarningLimit: 1000,
  },
  server: { port: 4781, strictPort: true, proxy: { '/api': { target: process.env.COREWRIGHT_API ?? 'http://127.0.0.1:4780' } } },
});
