// SPDX-License-Identifier: Apache-2.0
// peers.mjs midi-file|@tonejs/midi|midifile-ts count|time ROUNDS < LIST: as
// midi_bench, for readers from npm. Run from a folder where they are installed.
import { readFileSync } from 'node:fs'
import { createRequire } from 'node:module'

const require = createRequire(process.cwd() + '/')
const isPercussion = (channel) => channel === 9
const count = (events, isNote) => events.reduce((sum, event) => sum + (isNote(event) ? 1 : 0), 0)

const readers = {
  'midi-file': () => {
    const { parseMidi } = require('midi-file')
    return (file) =>
      count(parseMidi(file).tracks.flat(), (e) => e.type === 'noteOn' && !isPercussion(e.channel))
  },
  '@tonejs/midi': () => {
    const { Midi } = require('@tonejs/midi')
    return (file) =>
      new Midi(file).tracks.reduce(
        (sum, track) => sum + (isPercussion(track.channel) ? 0 : track.notes.length), 0)
  },
  'midifile-ts': () => {
    const { read } = require('midifile-ts')
    return (file) =>
      count(read(file).tracks.flat(),
        (e) => e.subtype === 'noteOn' && e.velocity > 0 && !isPercussion(e.channel))
  },
}

const [name, task, rounds] = process.argv.slice(2)
const read = readers[name]()
const files = readFileSync(0, 'utf8').trim().split('\n').map((path) => new Uint8Array(readFileSync(path)))
const notes = (file) => {
  try {
    return read(file)
  } catch {
    return -1
  }
}
if (task === 'count') {
  for (const file of files) console.log(notes(file))
} else {
  files.forEach(notes) // warms the compiler up
  for (let round = 0; round < Number(rounds); ++round) {
    const start = process.cpuUsage()
    files.forEach(notes)
    const { user, system } = process.cpuUsage(start)
    console.log((user + system) * 1e-6)
  }
}
