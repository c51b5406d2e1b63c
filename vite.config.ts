import preact from '@preact/preset-vite'
import { defineConfig } from 'vite'

/** Where `vite dev` finds a running service; the built view is served by the service itself. */
const serviceAddress = process.env.HOOFTALLY_SERVICE ?? 'http://127.0.0.1:8470'

export default defineConfig(({ command }) => {
  // A build started from a test run inherits NODE_ENV=test and would be half as large again, with developers' tools in it.
  if (command === 'build') process.env.NODE_ENV = 'production'
  return {
    root: 'web',
    plugins: [preact()],
    server: { proxy: { '/api': serviceAddress } },
    build: {
      outDir: '../dist/view',
      emptyOutDir: true,
      sourcemap: false,
      rollupOptions: {
        input: { index: 'web/index.html', 'service-worker': 'web/service-worker.ts' },
        output: {
          // A service worker has power over what lies beside and below it, so it lies at the top, under one name for good.
          entryFileNames: ({ name }) => (name === 'service-worker' ? '[name].js' : 'assets/[name]-[hash].js'),
        },
      },
    },
  }
})
