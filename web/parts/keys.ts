/** When single keys act: never while someone types, and never with a modifier held. */
export function isTyping(event: KeyboardEvent): boolean {
  if (event.ctrlKey || event.metaKey || event.altKey) return true
  const { target } = event
  return (
    target instanceof HTMLElement && target.closest('input, textarea, select, [contenteditable]') !== null
  )
}
