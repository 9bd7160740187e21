import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    include: ['tests/**/*.test.ts'],
    setupFiles: ['tests/support/setup.ts'],
    env: { TZ: 'UTC', LANG: 'C.UTF-8' },
    testTimeout: 180_000,
    hookTimeout: 180_000,
    maxWorkers: 2,
  },
});
