/** Words that stand where a trap or a water is decided on. Local codes and permits go before all of them. */
export const trapSafety = {
  visit:
    'Visit a set trap at least daily, and more often where heat, local codes or the number inside ask for it, with water, shade and feed for whatever is held. A look through a camera is not a visit.',
  open: 'Open it before rain, heat or distance prevents the visit.',
  release:
    'Stock, wildlife and dependent young are released or kept together as local codes require; a trap can part mothers from young.',
} as const

export const waterSafety = 'Never close a water before other water for stock and wildlife is sure.'

export const movingSafety =
  'Time off water counts from the first muster, through holding and loading, to the trough at the other end; only animals that are fit to load travel. Yard work and trucking are for licensed and trained people under the local codes and permits, which go before everything here.'

export const notOwnerless =
  'Feral does not mean ownerless: check brands, tags, collars, neighbours, and protected or culturally important animals before acting.'

export const localCodes =
  'Local codes, permits and welfare law go before anything that stands here, and so do a vet, a ranger or a welfare officer on the spot.'

export const licensedPeople =
  'Firearms, aerial work, baiting, trucking and yard work only by licensed and trained people under the local codes and permits. On shooting days people are cleared, neighbours warned, and the point comes off the water run.'

export const onlyFitTravel =
  'Time off water counts from the first muster, through holding and loading, to the trough at the other end; only animals fit to load travel.'

export const countsForPlans =
  'Counts are the least number seen by a machine and a camera, not a census: size yards, feed and trucks for the high end of the range.'

/** All that stands where a program is planned, in this order. */
export const programSafety: readonly string[] = [
  localCodes,
  `${trapSafety.visit} ${trapSafety.open} ${trapSafety.release}`,
  waterSafety,
  licensedPeople,
  notOwnerless,
  countsForPlans,
]
