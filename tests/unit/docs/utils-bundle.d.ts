/** The part of it that scaled.test.ts uses. */
declare module 'playwright-core/lib/utilsBundle' {
  export const yaml: { parse(text: string, options: { readonly merge: boolean }): unknown }
}
