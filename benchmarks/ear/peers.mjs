// SPDX-License-Identifier: Apache-2.0
// peers.mjs DETECTOR < CUTS: pitches by a detector from npm. Each line of CUTS is a file of 32-bit
// floats, its rate and what lies between two frames, in samples; each line of the answer holds the
// pitches of its frames in Hz, those that were found. Run from a folder where they are installed.
import { readFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import { pathToFileURL } from 'node:url'

const require = createRequire(process.cwd() + '/')
const frame = 8192

async function detector(name, rate) {
  if (name === 'pitchy') {
    const { PitchDetector } = await import(pathToFileURL(require.resolve('pitchy')))
    const found = PitchDetector.forFloat32Array(frame)
    return (samples) => found.findPitch(samples, rate)[0]
  }
  const finder = require('pitchfinder')
  const kinds = {
    'pitchfinder YIN': () => finder.YIN({ sampleRate: rate }),
    'pitchfinder AMDF': () => finder.AMDF({ sampleRate: rate, minFrequency: 50, maxFrequency: 5000 }),
    'pitchfinder wavelet': () => finder.DynamicWavelet({ sampleRate: rate }),
  }
  return kinds[name]()
}

for (const line of readFileSync(0, 'utf8').trim().split('\n')) {
  const [path, rate, hop] = line.split('\t')
  const bytes = readFileSync(path)
  const samples = new Float32Array(bytes.buffer, bytes.byteOffset, bytes.length / 4)
  const find = await detector(process.argv[2], Number(rate))
  const pitches = []
  for (let at = 0; at + frame <= samples.length; at += Number(hop)) {
    const pitch = find(samples.slice(at, at + frame))
    if (pitch > 0 && Number.isFinite(pitch)) pitches.push(pitch)
  }
  console.log(pitches.join(' '))
}
