// SPDX-License-Identifier: Apache-2.0
import { svelte } from '@sveltejs/vite-plugin-svelte';
import { defineConfig } from 'vitest/config';

export default defineConfig({
  plugins: [svelte()],
  build: {
    target: 'es2022',
    // Every file has an address of its own, as the content policy wants it.
    assetsInlineLimit: 0,
    reportCompressedSize: false,
  },
  test: { include: ['test/**/*.test.ts'] },
});
