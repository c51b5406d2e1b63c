/**
 * Which photos may leave the station: in an export, in anything that is shared. The one place where that is decided; the
 * owner's own view and the owner's own backup show and hold every photo.
 */
import { type RawBuilder, sql } from 'kysely'

/** A condition on the table `stills`, for every question whose answer leaves the station. */
export function mayLeave(): RawBuilder<boolean> {
  return sql<boolean>`not stills.person`
}

/** The same of one photo that has been read. */
export function photoMayLeave({ person }: { readonly person: boolean }): boolean {
  return !person
}
