// Each day in full, made when it is unfolded.

const texts = (cells) => cells.map(text);
const cautionTitle = (name) => document.querySelector(`#caution-${name} h3`).textContent.toLowerCase();

function dayWork(day) {
  const found = works.flatMap((work) => inSight(work, day.from, day.from + DAY).map((span) => [span[0], work, span]));
  return found.sort(byStart).map(([, work, span]) => {
    const part = work.spans.length > 1 ? `, part ${work.spans.indexOf(span) + 1} of ${work.spans.length}` : "";
    const step = element("span", {}, `${text(work.letter)} · ${text(work.step)}${part} `, unitLink(units[work.unit]));
    const amounts = [text(work.product), text(work.amounts)].filter(Boolean).join(": ");
    if (isTypical(work)) step.append(" ", tag("typical weather", "typical"));
    return [
      `${clock(span[0])}${secondRound(span, 1)} to ${ends(span)}${isDone(work) ? " (done)" : ""}`, step, text(work.place),
      crew(work), amounts, text(work.measure),
    ];
  });
}

function dayContent(day) {
  const link = (name) => element("a", { href: `#caution-${name}` }, cautionTitle(name));
  const cautions = day.cautions.flatMap((name, i) => [i ? "; " : "", link(name)]);
  const heads = ["warmer", "slots", "cartridges", "load", "warm from", "take out from", "outside at most", "for"];
  return [
    element("p", {}, "On paper: ", ...plan.papers.flatMap(([file, words], i) => [i ? ", " : "", element("a", { href: file.replace("DATE", day.day) }, words)])),
    day.cautions.length ? element("p", {}, element("b", {}, "Cautions: "), ...cautions, ".") : "",
    table(`Work, ${day.title}`, ["time", "step and unit", "bay", "people", "how much", "measure before"], dayWork(day)),
    day.take.length ? table("Take from the warmers on this day", heads, day.take.map(texts)) : "",
    day.load.length ? table("Load into the warmers on this day", heads, day.load.map(texts)) : "",
    day.picks.length ? table("Store", ["item", "amount", "from", "note"], day.picks.map((pick) => texts(pick).slice(0, 4))) : "",
  ];
}

function daySummary(day) {
  const stretches = works.reduce((sum, work) => sum + inSight(work, day.from, day.from + DAY).length, 0);
  const loads = day.load.length ? `, ${day.load.length} warmer load${day.load.length === 1 ? "" : "s"}` : "";
  return `${day.title}: ${stretches} stretch${stretches === 1 ? "" : "es"} of work${loads}`;
}

function fillDays() {
  const parts = plan.days.map((day) => {
    const { part } = foldedPart(`day-${day.day}`, daySummary(day), () => dayContent(day));
    if (day.typical) part.querySelector("summary").append(" ", tag("typical weather", "typical"));
    return part;
  });
  document.getElementById("day-list").replaceChildren(...parts);
}
