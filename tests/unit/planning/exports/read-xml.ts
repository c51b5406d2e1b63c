/** A strict reader of the little XML these files use (XML 1.0: elements, attributes, text, five entities); for tests alone. */

export interface XmlNode {
  readonly name: string
  readonly attributes: Readonly<Record<string, string>>
  readonly children: XmlNode[]
  text: string
}

const ENTITIES: Readonly<Record<string, string>> = {
  amp: '&',
  lt: '<',
  gt: '>',
  quot: '"',
  apos: "'",
  '#13': '\r',
}

function unescaped(raw: string): string {
  if (/[<>"]/.test(raw)) throw new Error(`not escaped: ${raw}`)
  return raw.replace(/&([^;]*);?/g, (whole, name: string) => {
    const char = ENTITIES[name]
    if (char === undefined || !whole.endsWith(';')) throw new Error(`no entity: ${whole}`)
    return char
  })
}

export function readXml(file: string): XmlNode {
  const head = '<?xml version="1.0" encoding="UTF-8"?>\n'
  if (!file.startsWith(head)) throw new Error('no XML declaration')
  const top: XmlNode = { name: '', attributes: {}, children: [], text: '' }
  const open = [top]
  for (const [, end, name, attributes, text] of file
    .slice(head.length)
    .matchAll(/<(\/?)([A-Za-z]+)((?: [A-Za-z]+="[^"]*")*)>|([^<]+)/g)) {
    const here = open.at(-1)!
    if (text !== undefined) here.text += unescaped(text)
    else if (end === '/') {
      if (here.name !== name) throw new Error(`</${name}> closes <${here.name}>`)
      open.pop()
    } else {
      const given = [...attributes!.matchAll(/ ([A-Za-z]+)="([^"]*)"/g)].map(([, key, value]) => [
        key!,
        unescaped(value!),
      ])
      const node = {
        name: name!,
        attributes: Object.fromEntries(given) as Record<string, string>,
        children: [],
        text: '',
      }
      here.children.push(node)
      open.push(node)
    }
  }
  if (open.length !== 1 || top.children.length !== 1) throw new Error('not one element from end to end')
  return top.children[0]!
}

/** Every node of that name below. */
export const all = (node: XmlNode, name: string): XmlNode[] =>
  node.children.flatMap((child) => [...(child.name === name ? [child] : []), ...all(child, name)])
