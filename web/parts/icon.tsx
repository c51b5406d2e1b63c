/** The view's own line icons, 24 x 24. They stand beside words and are hidden from screen readers. */

const PATHS = {
  run: 'M4 20c4-2 3-6 7-7s3-5 8-6M5 7a2.5 2.5 0 1 1 0-.01M19 18.5a2 2 0 1 1 0-.01',
  check: 'M4 5h16v11H4zM8.5 10.5l2.5 2.5 5-5M8 20h8',
  pressure: 'M3 20h18M6 17v-5M12 17V5M18 17v-8',
  programs: 'M6 4h12v16H6zM9 9h6M9 13h6M9 17h3',
  setup: 'M5 6h14M5 12h14M5 18h14M9 4v4M15 10v4M8 16v4',
  drop: 'M12 3c4 5 6 8 6 11a6 6 0 0 1-12 0c0-3 2-6 6-11z',
  dropLow: 'M12 3c4 5 6 8 6 11a6 6 0 0 1-12 0c0-3 2-6 6-11zM7 16h10',
  dropDry: 'M12 3c4 5 6 8 6 11a6 6 0 0 1-12 0c0-3 2-6 6-11zM4 4l16 17',
  dropUnknown:
    'M10 12a2 2 0 1 1 2.6 1.9c-.5.2-.6.6-.6 1.1M12 17.6v.1M12 3c4 5 6 8 6 11a6 6 0 0 1-12 0c0-3 2-6 6-11z',
  camera: 'M4 8h4l1.5-2.5h5L16 8h4v11H4zM12 16.5a3.2 3.2 0 1 1 0-6.4 3.2 3.2 0 0 1 0 6.4z',
  cameraDown: 'M4 8h4l1.5-2.5h5L16 8h4v11H4zM3 3l18 18',
  cattle:
    'M3 6c1 3 3 4 5 4M21 6c-1 3-3 4-5 4M8 10c0-2 8-2 8 0l-1 7c-.4 3-5.6 3-6 0zM10.5 13.5v.1M13.5 13.5v.1',
  hoof: 'M10 4c-4 3-5 9-4 15l5 1c1-6 1-11-1-16zM14 4c4 3 5 9 4 15l-5 1c-1-6-1-11 1-16z',
  battery: 'M3 8h15v8H3zM18 11h3v2h-3M6 11v2',
  eye: 'M2.5 12c5-8 14-8 19 0-5 8-14 8-19 0zM12 15a3 3 0 1 1 0-6 3 3 0 0 1 0 6z',
  clock: 'M12 3.5a8.5 8.5 0 1 1 0 17 8.5 8.5 0 0 1 0-17zM12 7.5V12l3 2',
  broken: 'M4 5h16v14H4zM4 19l6-7 3 3M14 9l6-4M9 9v.1',
  trap: 'M4 20V6M20 20V6M4 9h16M4 14h16M9 9v5M15 9v5',
  tick: 'M5 12.5l4.5 5L19 7',
  minus: 'M5 12h14',
  plus: 'M5 12h14M12 5v14',
  swap: 'M4 9h14l-4-4M20 15H6l4 4',
  none: 'M12 3.5a8.5 8.5 0 1 1 0 17 8.5 8.5 0 0 1 0-17zM6 6l12 12',
  undo: 'M8 5L4 9l4 4M4 9h10a5 5 0 0 1 0 10H9',
  left: 'M15 5l-7 7 7 7',
  right: 'M9 5l7 7-7 7',
  up: 'M5 15l7-7 7 7',
  down: 'M5 9l7 7 7-7',
  sun: 'M12 8a4 4 0 1 1 0 8 4 4 0 0 1 0-8zM12 2.5v2M12 19.5v2M2.5 12h2M19.5 12h2M5.3 5.3l1.4 1.4M17.3 17.3l1.4 1.4M5.3 18.7l1.4-1.4M17.3 6.7l1.4-1.4',
  moon: 'M19 14.5A8 8 0 0 1 9.5 5 8 8 0 1 0 19 14.5z',
  alarm: 'M12 4l9 16H3zM12 10v5M12 17.5v.1',
  zoom: 'M10.5 4a6.5 6.5 0 1 1 0 13 6.5 6.5 0 0 1 0-13zM15.5 15.5L21 21M7.5 10.5h6M10.5 7.5v6',
  box: 'M4 8V4h4M16 4h4v4M20 16v4h-4M8 20H4v-4',
  link: 'M10 14a4 4 0 0 0 5.6.4l3-3a4 4 0 0 0-5.6-5.6l-1 1M14 10a4 4 0 0 0-5.6-.4l-3 3a4 4 0 0 0 5.6 5.6l1-1M4 4l16 16',
  draw: 'M4 20l1-4L16 5l3 3L8 19zM13.5 7.5l3 3M14 20h6',
  copy: 'M8 8h12v12H8zM16 8V4H4v12h4',
  place: 'M12 21c-5-6-7-9-7-12a7 7 0 0 1 14 0c0 3-2 6-7 12zM12 11.5a2.5 2.5 0 1 1 0-5 2.5 2.5 0 0 1 0 5z',
} as const

export type IconName = keyof typeof PATHS

export function Icon({ name }: { readonly name: IconName }) {
  return (
    <svg class="icon" viewBox="0 0 24 24" aria-hidden="true" focusable="false">
      <path d={PATHS[name]} />
    </svg>
  )
}
