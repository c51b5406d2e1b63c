/** The clusters of waters that a species shares: head, yards, what is in the way, and what nobody can know. */
import type { TrapYardsAnswer, YardClusterAnswer } from '../../../services/http/trap-yard-shapes.ts'
import { withQuery } from '../../api/questions.ts'
import { FactChip } from '../../parts/fact.tsx'
import { lackLines } from '../../text/other-water.ts'
import { nameOf, yardWords as words } from '../../text/trap-yards.ts'
import {
  clusterHead,
  clusterState,
  clusterTitle,
  clusterYards,
  nearbyWords,
  seldomAt,
  seldomWords,
  sharedWords,
  unsureWords,
  withoutWaterWords,
} from '../../text/yard-clusters.ts'
import { OtherWater } from './other-water.tsx'

interface ClustersProps {
  readonly answer: TrapYardsAnswer
  readonly changed: () => void
}

export function Clusters({ answer, changed }: ClustersProps) {
  return (
    <section aria-labelledby="clusters-head">
      <h2 id="clusters-head">{words.clusters}</h2>
      <p class="small">{words.clustersHint}</p>
      <ul class="plain-list yard-clusters">
        {answer.clusters.map((cluster) => (
          <li key={cluster.clusterId}>
            <Cluster answer={answer} cluster={cluster} changed={changed} />
          </li>
        ))}
      </ul>
    </section>
  )
}

const TONES = {
  'close it whole': 'well',
  'yards short': 'look',
  'other water not sure': 'look',
  'none seen': 'unknown',
} as const

function Cluster({ answer, cluster, changed }: ClustersProps & { readonly cluster: YardClusterAnswer }) {
  const shared = sharedWords(answer, cluster)
  const notes = [nearbyWords, unsureWords, withoutWaterWords]
    .map((wordsOf) => wordsOf(answer, cluster))
    .filter((note) => note !== null)
  return (
    <article class="yard-cluster">
      <h3>{clusterTitle(answer, cluster)}</h3>
      <p class="facts">
        <FactChip fact={{ tone: TONES[cluster.says], words: clusterState[cluster.says] }} icon="trap" />
      </p>
      <p>
        <strong>{clusterHead(cluster)}</strong> {clusterYards(answer, cluster)}
      </p>
      {cluster.lacks.length > 0 && cluster.says !== 'none seen' && (
        <ul class="plain-list yard-lacks">
          {lackLines(answer, cluster.lacks).map((line) => (
            <li key={line}>{line}</li>
          ))}
        </ul>
      )}
      {cluster.says !== 'none seen' && <OtherWater answer={answer} cluster={cluster} changed={changed} />}
      {notes.map((note) => (
        <p class="small" key={note}>
          {note}
        </p>
      ))}
      {seldomAt(answer, cluster).map((point) => (
        <p class="small" key={point.pointId}>
          <a
            href={withQuery('/photos', { point: point.pointId, species: answer.species, ...answer.lookedAt })}
          >
            {nameOf(answer, point.pointId)}
          </a>
          {`: ${seldomWords(point)}`}
        </p>
      ))}
      {shared.map((line) => (
        <p class="small" key={line}>
          {line}
        </p>
      ))}
    </article>
  )
}
