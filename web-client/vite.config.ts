// SPDX-License-Identifier: BSD-3-Clause
import { defineConfig } from "vite";

export default defineConfig({
  base: "/",
  build: {
    outDir: "../src/ringwright/web/static",
    emptyOutDir: true,
    target: "es2022",
    assetsInlineLimit: 0, // the server's policy lets fonts and images come from files only
    modulePreload: { polyfill: false },
    reportCompressedSize: false,
  },
  server: { proxy: { "/api": { target: "http://127.0.0.1:8000", ws: true } } },
});
