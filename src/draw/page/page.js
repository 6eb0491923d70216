"use strict";
(function () {
  var D = JSON.parse(document.getElementById("data").textContent);
  var NS = "http://www.w3.org/2000/svg";
  var by = function (id) { return document.getElementById(id); };
  var X = function (cm) { return (cm / 100 - D.corner[0]) * D.unit; };
  var Y = function (cm) { return (cm / 100 - D.corner[1]) * D.unit; };
  function make(kind, attrs, parent) {
    var e = document.createElementNS(NS, kind);
    Object.keys(attrs).forEach(function (k) { e.setAttribute(k, attrs[k]); });
    if (parent) parent.appendChild(e);
    return e;
  }
  function bodies(parent, ink) {
    var set = { a: [], d: [] };
    for (var i = 0; i < 5; i++) {
      var d = make("g", {}, parent);
      d.bar = make("path", { stroke: ink.d, "stroke-width": 4, "stroke-linecap": "round" }, d);
      d.name = make("text", { "font-size": 27, "font-weight": "bold", "text-anchor": "middle", fill: ink.d }, d);
      d.name.textContent = "X" + (i + 1);
      set.d.push(d);
    }
    for (i = 0; i < 5; i++) {
      var a = make("g", {}, parent);
      a.ring = make("circle", { r: 26, fill: "none", stroke: ink.a, "stroke-width": 3 }, a);
      make("circle", { r: 20, fill: ink.a }, a);
      var n = make("text", { y: 11, "font-size": 30, "font-weight": "bold", "text-anchor": "middle", fill: ink.n }, a);
      n.textContent = i + 1;
      set.a.push(a);
    }
    set.lamp = make("g", { fill: "#ffe2a0", "fill-opacity": ink.lamp || 0 }, parent);
    parent.insertBefore(set.lamp, parent.firstChild);
    set.lamp.setAttribute("class", "lamp");
    make("circle", { r: 90 }, set.lamp);
    set.ball = make("circle", { r: 7, fill: ink.ball, stroke: ink.a, "stroke-width": 2 }, parent);
    return set;
  }
  // Signs that would lie on each other are drawn a little apart, defenders the more.
  function apart(f) {
    f = f.slice();
    for (var n = 0; n < 4; n++) for (var d = 0; d < 5; d++) for (var o = 0; o < 10; o++) {
      if (o === 5 + d) continue;
      var i = 14 + 2 * d, j = 4 + 2 * o, dx = f[i] - f[j], dy = f[i + 1] - f[j + 1], far = Math.hypot(dx, dy) || 1;
      var least = o > 4 ? 110 : f[3] === o + 1 ? 150 : 120;
      if (far < least) {
        var part = o > 4 ? .5 : 1, by = part * (least - far) / far;
        f[i] += dx * by; f[i + 1] += dy * by;
        if (o > 4) { f[j] -= dx * by; f[j + 1] -= dy * by; }
      }
    }
    return f;
  }
  // Does somebody whose second coordinate is at this place of the frame stand far beyond the baseline, and not play?
  function isAside(f, at) { return f[at] < -2500; }
  function put(set, real, show) {
    var f = apart(real);
    for (var i = 0; i < 5; i++) {
      set.a[i].setAttribute("transform", "translate(" + X(f[4 + 2 * i]) + " " + Y(f[5 + 2 * i]) + ")");
      set.a[i].style.display = isAside(f, 5 + 2 * i) ? "none" : "";
      set.a[i].ring.style.display = f[3] === i + 1 ? "" : "none";
      var g = set.d[i], x = X(f[14 + 2 * i]), y = Y(f[15 + 2 * i]), t = f[24 + i] * Math.PI / 180;
      g.style.display = show && !show[i] || isAside(f, 15 + 2 * i) ? "none" : "";
      g.name.setAttribute("x", x);
      g.name.setAttribute("y", y + 10);
      var mx = x + Math.cos(t) * 22, my = y + Math.sin(t) * 22, sx = -Math.sin(t) * 15, sy = Math.cos(t) * 15;
      g.bar.setAttribute("d", "M" + (mx + sx) + " " + (my + sy) + "L" + (mx - sx) + " " + (my - sy));
    }
    var lift = Math.max(0, f[2] - 120) / 12;
    var h = f[3], bx = X(f[0]), byy = Y(f[1]) - lift;
    if (h > 0) {
      var ax = f[2 + 2 * h], ay = f[3 + 2 * h], far = Math.hypot(ax, ay) || 1;
      bx = X(ax) - 26 * ax / far; byy = Y(ay) - 26 * ay / far;
    }
    set.ball.setAttribute("cx", bx);
    set.ball.setAttribute("cy", byy);
    set.lamp.setAttribute("transform", "translate(" + bx + " " + byy + ")");
  }
  // The possession.
  var NIGHT = { a: "#f6ecd9", n: "#1d130b", d: "#bfe3f2", ball: "#fff7c9", lamp: 0.45 };
  var under = by("under"), set = bodies(by("over"), NIGHT);
  var step = 1 / D.hz, last = (D.frames.length - 1) * step, t = 0, playing = false, speed = 1, stamp = 0;
  var LAYERS = { light: true, threads: false, midline: false, triangles: false };
  var cells = null;
  function moment() {
    var m = null;
    for (var i = 0; i < D.moments.length && D.moments[i].t <= t + 0.01; i++) m = D.moments[i];
    return m && t - m.t < 0.45 ? m : null;
  }
  function line(x1, y1, x2, y2, dash) {
    make("path", { d: "M" + X(x1) + " " + Y(y1) + "L" + X(x2) + " " + Y(y2), stroke: "#ecd9b8", "stroke-width": 2.5, "stroke-dasharray": dash, fill: "none" }, by("lines"));
  }
  function edge(i, count, k) {
    return (D.first[k] + Math.min(Math.max(i, 0), count - 1) * D.step[k] - D.corner[k]) * D.unit;
  }
  function light(m) {
    var g = by("light");
    g.style.display = LAYERS.light && m ? "" : "none";
    if (!LAYERS.light || !m) return;
    if (!cells) {
      cells = [];
      for (var r = 0; r < D.rows; r++) for (var c = 0; c < D.columns; c++)
        cells.push(make("rect", { x: edge(c - .5, D.columns, 0), y: edge(r - .5, D.rows, 1), width: edge(c + .5, D.columns, 0) - edge(c - .5, D.columns, 0), height: edge(r + .5, D.rows, 1) - edge(r - .5, D.rows, 1), "shape-rendering": "crispEdges", fill: "#ffcf7a" }, g));
    }
    for (var i = 0; i < cells.length; i++) cells[i].setAttribute("fill-opacity", parseInt(m.light[i], 16) / 15 * .5);
  }
  function draw() {
    var k = Math.min(D.frames.length - 1, Math.floor(t / step)), f = D.frames[k], g = D.frames[k + 1] || f;
    var s = Math.min(1, t / step - k), now = f.map(function (v, i) {
      if (i === 3) return f[3];
      if (i >= 24) { var d = ((g[i] - v + 540) % 360) - 180; return v + d * s; }
      return v + (g[i] - v) * s;
    });
    put(set, now);
    var m = moment(), lines = by("lines");
    light(m);
    while (lines.firstChild) lines.removeChild(lines.firstChild);
    if (LAYERS.midline) line(0, 0, 0, D.half, "12 9");
    if (LAYERS.triangles && now[3] > 0) for (var i = 0; i < 5; i++) {
      var man = D.guards[k][i];
      if (man === now[3] || isAside(now, 15 + 2 * i)) continue;
      line(now[0], now[1], now[14 + 2 * i], now[15 + 2 * i], "3 5");
      line(now[14 + 2 * i], now[15 + 2 * i], now[2 + 2 * man], now[3 + 2 * man], "3 5");
    }
    if (LAYERS.threads && m) m.shut.forEach(function (q) {
      line(now[12 + 2 * q[0]], now[13 + 2 * q[0]], q[1], q[2], "1.5 5");
    });
    var slider = by("time");
    slider.value = Math.round(t * 100);
    slider.setAttribute("aria-valuetext", t.toFixed(1) + " seconds");
    by("clock").textContent = Math.min(t, D.known).toFixed(1) + " s";
    by("result").textContent = t >= D.known - 0.01 ? D.result : "0 points";
    var told = "";
    for (i = 0; i < D.lines.length && D.lines[i][0] <= t + 0.01; i++) told = D.lines[i][1];
    if (by("told").textContent !== told) by("told").textContent = told;
  }
  function tick(at) {
    if (!playing) return;
    // A frame may have begun before the press that starts the play.
    t = Math.min(last, t + Math.max(0, Math.min(.1, (at - stamp) / 1000)) * speed);
    stamp = at;
    draw();
    if (t >= last) pause(); else requestAnimationFrame(tick);
  }
  function pause() { playing = false; by("play").textContent = "Play"; }
  function play() {
    if (t >= last) t = 0;
    playing = true; stamp = performance.now();
    by("play").textContent = "Freeze";
    requestAnimationFrame(tick);
  }
  function go(to) { pause(); t = Math.max(0, Math.min(last, to)); draw(); }
  function decision(way) {
    var list = D.decisions.filter(function (d) { return way > 0 ? d > t + 0.03 : d < t - 0.03; });
    go(list.length ? list[way > 0 ? 0 : list.length - 1] : way > 0 ? last : 0);
  }
  by("play").addEventListener("click", function () { if (playing) pause(); else play(); });
  by("next").addEventListener("click", function () { decision(1); });
  by("back").addEventListener("click", function () { decision(-1); });
  by("speed").addEventListener("change", function (e) { speed = Number(e.target.value); });
  by("time").max = Math.round(last * 100);
  by("time").addEventListener("input", function (e) { go(e.target.value / 100); });
  Object.keys(LAYERS).forEach(function (name) {
    var box = by("layer-" + name);
    box.checked = LAYERS[name];
    box.addEventListener("change", function () { LAYERS[name] = box.checked; draw(); });
  });
  document.addEventListener("keydown", function (e) {
    if (e.target.closest("select,input,button,#where") || e.ctrlKey || e.metaKey || e.altKey) return;
    if (e.key === " ") { e.preventDefault(); by("play").click(); }
    if (e.key === "ArrowRight") { e.preventDefault(); decision(1); }
    if (e.key === "ArrowLeft") { e.preventDefault(); decision(-1); }
  });
  draw();
  // Rule cards.
  var pick = by("rule");
  function card() {
    Array.prototype.forEach.call(document.querySelectorAll(".card"), function (c) { c.classList.toggle("on", c.id === pick.value); });
  }
  pick.addEventListener("change", card);
  card();
  // Where do I stand?
  var DAY = { a: "#000000", n: "#ffffff", d: "#000000", ball: "#f08a00" };
  var quiz = bodies(by("asked"), DAY), q = null, me = 0, at = [0, 400], open = false, turn = 0;
  var mark = make("g", {}, by("asked"));
  make("path", { d: "M-14 -14L14 14M-14 14L14 -14", stroke: "#0057b8", "stroke-width": 6, "stroke-linecap": "round" }, mark);
  var truth = make("circle", { r: 24, fill: "none", stroke: "#0a7a2f", "stroke-width": 4, "stroke-dasharray": "6 4" }, by("asked"));
  function place() { mark.setAttribute("transform", "translate(" + X(at[0]) + " " + Y(at[1]) + ")"); }
  // A round of questions; what was right is told at its end.
  var ROUND = Math.min(6, D.quiz.length), given = [], told = -1;
  function ask() {
    // Every question once before any comes again; never the defender on the ball.
    q = D.quiz[turn % D.quiz.length];
    me = (q.f[3] + (turn * 3 + Math.floor(turn / D.quiz.length)) % 4) % 5;
    turn += 1;
    open = true; at = [0, 400]; told = -1;
    var show = [1, 1, 1, 1, 1]; show[me] = 0;
    put(quiz, q.f, show);
    truth.style.display = "none";
    place();
    by("question").textContent = "Question " + (given.length + 1) + " of " + ROUND + ". The ball is at the " + q.ball + ". You are X" + (me + 1) + ", you guard " + (me + 1) + ". Where do you stand? Tap the floor or move the blue cross, then answer.";
    by("answer").textContent = "Answer";
  }
  function length(metres) { return D.feet ? (metres / .3048).toFixed(1) + " ft" : metres.toFixed(1) + " m"; }
  function tell(k) {
    told = k; q = given[k].q; me = given[k].me; at = given[k].at;
    var x = q.f[14 + 2 * me], y = q.f[15 + 2 * me], off = given[k].off;
    put(quiz, q.f);
    place();
    var drawn = apart(q.f);
    truth.setAttribute("cx", X(drawn[14 + 2 * me])); truth.setAttribute("cy", Y(drawn[15 + 2 * me]));
    truth.style.display = "";
    var man = [q.f[4 + 2 * me], q.f[5 + 2 * me]], far = function (a, b) { return Math.hypot(a[0] - b[0], a[1] - b[1]); };
    var way = [];
    if (off > .7) {
      var toMan = far(at, man) - far([x, y], man), toBall = far(at, q.f) - far([x, y], q.f), toRim = far(at, [0, 0]) - far([x, y], [0, 0]);
      if (Math.abs(toMan) > 50) way.push(toMan < 0 ? "too near to your player" : "too far from your player");
      if (Math.abs(toBall) > 50) way.push(toBall < 0 ? "too near to the ball" : "too far from the ball");
      if (Math.abs(toRim) > 50) way.push(toRim < 0 ? "too deep" : "too high");
    }
    var sum = given.reduce(function (s, g) { return s + g.off; }, 0);
    by("question").textContent = "Answer " + (k + 1) + " of " + given.length + ". " + (off <= .7 ? "Right there: " : "") + length(off) + " off" + (way.length ? ", " + way.join(", ") : "") + ". Mean of " + given.length + ": " + length(sum / given.length) + ".";
    by("answer").textContent = k + 1 < given.length ? "Next answer" : "Ask again";
  }
  function answer() {
    if (told >= 0) {
      if (told + 1 < given.length) { tell(told + 1); return; }
      given = []; ask(); return;
    }
    open = false;
    given.push({ q: q, me: me, at: at, off: Math.hypot(at[0] - q.f[14 + 2 * me], at[1] - q.f[15 + 2 * me]) / 100 });
    if (given.length < ROUND) ask(); else tell(0);
  }
  function nudge(dx, dy) { if (!open) return; at = [Math.max(-D.side, Math.min(D.side, at[0] + dx)), Math.max(D.base, Math.min(D.deep, at[1] + dy))]; place(); }
  [["left", -30, 0], ["right", 30, 0], ["up", 0, -30], ["down", 0, 30]].forEach(function (b) {
    by("go-" + b[0]).addEventListener("click", function () { nudge(b[1], b[2]); });
  });
  by("where").addEventListener("click", function (e) {
    if (!open) return;
    var box = by("where").getBoundingClientRect(), view = by("where").viewBox.baseVal;
    at = [((e.clientX - box.left) / box.width * view.width / D.unit + D.corner[0]) * 100, ((e.clientY - box.top) / box.height * view.height / D.unit + D.corner[1]) * 100];
    place();
  });
  by("answer").addEventListener("click", answer);
  ask();
})();
