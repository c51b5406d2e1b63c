import express from 'express'

/** Reads a JSON body: 500 words on photos fit many times over. */
export const jsonBody = express.json({ limit: '1mb' })
