"""A script that a browser runs in a page to say what a reader would stumble over; its value is a list of sentences."""

FAULTS = r"""
(() => {
  const faults = [];
  const root = document.documentElement;
  const name = (e) => e.tagName.toLowerCase() + (e.className && e.className.baseVal === undefined
    ? "." + e.className : "") + " \"" + (e.textContent || "").trim().slice(0, 30) + "\"";
  const hidden = (e) => { for (let up = e; up; up = up.parentElement) {
    const s = getComputedStyle(up);
    if (s.display === "none" || s.visibility === "hidden" || s.clipPath.startsWith("inset(50%")) return true;
  } return false; };

  if (root.scrollWidth > root.clientWidth)
    faults.push(`page: scrolls sideways, ${root.scrollWidth} in ${root.clientWidth}`);

  for (const e of document.body.querySelectorAll("*")) {
    if (e.closest("svg") && e.tagName !== "svg" || hidden(e)) continue;
    const box = e.getBoundingClientRect(), style = getComputedStyle(e);
    if (box.width && (box.right > root.clientWidth + 0.5 || box.left < -0.5))
      faults.push(`${name(e)}: reaches beyond the page, ${box.left.toFixed(1)} to ${box.right.toFixed(1)}`);
    if (e.tagName === "svg") {
      if (e.getAttribute("role") !== "img" || !e.getAttribute("aria-label")) faults.push("svg: without a name");
      continue;
    }
    if (style.display !== "inline" && e.clientWidth && e.scrollWidth > e.clientWidth + 1)
      faults.push(`${name(e)}: is wider than its box, ${e.scrollWidth} in ${e.clientWidth}`);
    if (style.overflowY !== "visible" && e.scrollHeight > e.clientHeight + 1 && e !== document.body)
      faults.push(`${name(e)}: is cut off at its foot`);
  }
  for (const e of document.images) if (!e.alt) faults.push("img: without a name");

  // Each line of text as a box, shrunk a little: lines of one paragraph may touch, texts must not lie on one another.
  const lines = [];
  const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  for (let node = walk.nextNode(); node; node = walk.nextNode()) {
    if (!node.data.trim() || node.parentElement.closest("svg") || hidden(node.parentElement)) continue;
    const style = getComputedStyle(node.parentElement);
    const dark = (style.color.match(/[\d.]+/g) || []).slice(0, 3).map(Number);
    if (0.2126 * dark[0] + 0.7152 * dark[1] + 0.0722 * dark[2] > 90)
      faults.push(`${name(node.parentElement)}: text is too light, ${style.color}`);
    if (parseFloat(style.fontSize) < 11) faults.push(`${name(node.parentElement)}: text of ${style.fontSize}`);
    const range = document.createRange();
    range.selectNodeContents(node);
    const size = parseFloat(style.fontSize);
    for (const box of range.getClientRects()) {
      const squeeze = Math.max(0, (box.height - size) / 2) + size * 0.12;
      lines.push([box.left + 0.5, box.top + squeeze, box.right - 0.5, box.bottom - squeeze, node]);
    }
  }
  lines.sort((a, b) => a[1] - b[1]);
  for (let i = 0; i < lines.length; i++)
    for (let k = i + 1; k < lines.length && lines[k][1] < lines[i][3]; k++)
      if (lines[i][0] < lines[k][2] && lines[k][0] < lines[i][2])
        faults.push(`texts lie on one another: ${name(lines[i][4].parentElement)} and `
          + name(lines[k][4].parentElement));
  return faults;
})()
"""
