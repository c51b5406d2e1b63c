/**
 * Which addresses the service may ask for a photo: public ones, and those of the station's own that the operator named at
 * the start. Otherwise whoever may set up a camera could have the service ask whatever else this machine can reach.
 */
import { BlockList, isIP, isIPv4 } from 'node:net'

/** `camera.example`, `192.168.1.20`, `192.168.1.0/24`, `fd00::/8`. */
export interface HostRules {
  readonly hosts: ReadonlySet<string>
  readonly networks: BlockList
}

/**
 * Not to be reached from outside of where they are (IANA IPv4 Special-Purpose Address Registry, RFC 6890 and its
 * updates), and multicast and what is reserved (RFC 1112, section 4).
 */
const CLOSED_IPV4 = [
  '0.0.0.0/8',
  '10.0.0.0/8',
  '100.64.0.0/10',
  '127.0.0.0/8',
  '169.254.0.0/16',
  '172.16.0.0/12',
  '192.0.0.0/24',
  '192.0.2.0/24',
  '192.88.99.0/24',
  '192.168.0.0/16',
  '198.18.0.0/15',
  '198.51.100.0/24',
  '203.0.113.0/24',
  '224.0.0.0/4',
  '240.0.0.0/4',
]
/** Global unicast (RFC 4291, section 2.4); whatever is not in it is closed. */
const GLOBAL_IPV6 = ['2000::/3']
/** In it, and still no address of a host out there (IANA IPv6 Special-Purpose Address Registry): Teredo, 6to4, examples. */
const CLOSED_IPV6 = ['2001::/23', '2001:db8::/32', '2002::/16', '3fff::/20']

const closed = networksOf([...CLOSED_IPV4, ...CLOSED_IPV6])
const global = networksOf(GLOBAL_IPV6)

/** Null where one of them is no host, address or network; which one it is says `wrong`. */
export function readHostRules(texts: readonly string[]): HostRules | { readonly wrong: string } {
  const hosts = new Set<string>()
  const networks = new BlockList()
  for (const text of texts) {
    const address = isIP(text) === 0 ? text : `${text}/${isIPv4(text) ? 32 : 128}`
    if (address.includes('/')) {
      if (!addNetwork(networks, address)) return { wrong: text }
    } else if (/^[a-z0-9_]([a-z0-9_.-]*[a-z0-9])?\.?$/i.test(text)) hosts.add(plainHost(text))
    else return { wrong: text }
  }
  return { hosts, networks }
}

/** @param address an IP address, as the host's name resolved to or as it was given */
export function mayReach(address: string, host: string, { hosts, networks }: HostRules): boolean {
  const ip = plainAddress(address)
  if (ip === null) return false
  return hosts.has(plainHost(host)) || contains(networks, ip) || isPublic(ip)
}

function isPublic(ip: string): boolean {
  if (contains(closed, ip)) return false
  return isIPv4(ip) || contains(global, ip)
}

/** An IPv4 address that is written as one of IPv6 (RFC 4291, section 2.5.5) is what it holds. Null: no address. */
export function plainAddress(address: string): string | null {
  const bare = address.replace(/^\[|\]$/g, '').split('%')[0]!
  if (isIP(bare) === 0) return null
  if (isIPv4(bare)) return bare
  // One spelling of each address (RFC 5952), by the parser of addresses itself.
  const { hostname } = new URL(`http://[${bare}]`)
  const mapped = /^\[::ffff:([0-9a-f]+):([0-9a-f]+)\]$/.exec(hostname)
  if (mapped === null) return hostname.slice(1, -1)
  const [high, low] = [Number.parseInt(mapped[1]!, 16), Number.parseInt(mapped[2]!, 16)]
  return [high >> 8, high & 255, low >> 8, low & 255].join('.')
}

function plainHost(host: string): string {
  return host.toLowerCase().replace(/\.$/, '')
}

function contains(networks: BlockList, ip: string): boolean {
  return networks.check(ip, isIPv4(ip) ? 'ipv4' : 'ipv6')
}

function networksOf(texts: readonly string[]): BlockList {
  const networks = new BlockList()
  for (const text of texts) addNetwork(networks, text)
  return networks
}

function addNetwork(networks: BlockList, text: string): boolean {
  const [address = '', prefix = ''] = text.split('/')
  const family = isIP(address)
  if (family === 0 || !/^\d{1,3}$/.test(prefix) || Number(prefix) > (family === 4 ? 32 : 128)) return false
  networks.addSubnet(address, Number(prefix), family === 4 ? 'ipv4' : 'ipv6')
  return true
}
