// The sheet's one button: a page without it can still be printed by the browser's own menu.
const button = document.getElementById('print')
button.hidden = false
button.addEventListener('click', () => window.print())
