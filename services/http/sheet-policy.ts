/** For pages that stand alone: their own style, this service's pictures and its print button; nothing else. */
export const SHEET_POLICY =
  "default-src 'none'; img-src 'self'; script-src 'self'; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"
