import { svelte } from '@sveltejs/vite-plugin-svelte';
import { defineConfig } from 'vite';

// Paths are relative, so that the built page also works from a folder of static files.
export default defineConfig({
  base: './',
  plugins: [svelte()],
  worker: { format: 'es' },
  build: { outDir: '../build/page', emptyOutDir: true, target: 'es2022', assetsInlineLimit: 0, modulePreload: false },
});
