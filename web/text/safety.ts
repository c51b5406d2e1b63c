/** Words that stand where a trap or a water is decided on. Local codes and permits go before all of them. */
export const trapSafety = {
  visit:
    'Visit a set trap at least daily, and more often where heat, local codes or the number inside ask for it, with water, shade and feed for whatever is held. A look through a camera is not a visit.',
  open: 'Open it before rain, heat or distance prevents the visit.',
  release:
    'Stock, wildlife and dependent young are released or kept together as local codes require; a trap can part mothers from young.',
} as const

export const waterSafety = 'Never close a water before other water for stock and wildlife is sure.'

export const notOwnerless =
  'Feral does not mean ownerless: check brands, tags, collars, neighbours, and protected or culturally important animals before acting.'
