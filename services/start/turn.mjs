/** Two starts at once install and build one after the other: a folder with its owner's process number is the turn. */
import { mkdirSync, readdirSync, renameSync, rmSync } from 'node:fs'
import { join } from 'node:path'
import { setTimeout as wait } from 'node:timers/promises'
import { projectFolder, say } from './run.mjs'

const TURN = join(projectFolder, 'dist', '.turn')
const LOOK_EVERY_MS = 200

/** Waits until it is this process's turn; gives the function that ends it. */
export async function takeTurn() {
  mkdirSync(join(projectFolder, 'dist'), { recursive: true })
  let told = false
  while (!tryTurn()) {
    const owner = turnOwner()
    if (owner !== null && !isAlive(owner)) remove(owner)
    else {
      if (!told && owner !== null) say(`Waiting for process ${owner}, which is installing or building here.`)
      told ||= owner !== null
      await wait(LOOK_EVERY_MS)
    }
  }
  const end = () => remove(process.pid)
  process.once('exit', end)
  return () => {
    process.off('exit', end)
    end()
  }
}

/** The folder comes into being with its owner's number inside: a rename fails on one that isn't empty. */
function tryTurn() {
  const fresh = `${TURN}-${process.pid}`
  mkdirSync(join(fresh, String(process.pid)), { recursive: true })
  try {
    renameSync(fresh, TURN)
    return true
  } catch (error) {
    rmSync(fresh, { recursive: true, force: true })
    // Windows says EPERM for a folder that is there.
    if (['ENOTEMPTY', 'EEXIST', 'EPERM'].includes(error.code)) return false
    throw error
  }
}

function turnOwner() {
  try {
    return Number(readdirSync(TURN)[0] ?? Number.NaN) || null
  } catch (error) {
    if (error.code === 'ENOENT') return null
    throw error
  }
}

/** Removes this owner's turn in one step; another start may have cleared it and taken its own meanwhile. */
function remove(owner) {
  const aside = `${TURN}-left-${process.pid}`
  try {
    renameSync(TURN, aside)
  } catch (error) {
    if (error.code === 'ENOENT') return
    throw error
  }
  if (readdirSync(aside)[0] === String(owner)) rmSync(aside, { recursive: true, force: true })
  else renameSync(aside, TURN)
}

function isAlive(pid) {
  try {
    process.kill(pid, 0)
    return true
  } catch (error) {
    return error.code === 'EPERM'
  }
}
