// Three small helps, each of which the pages can do without: finding a plate
// in the list, comparing two states, looking at a picture enlarged.
(function () {
  'use strict';

  // Finding: hides the plates whose words lack what is typed.
  var find = document.getElementById('find');
  if (find) {
    var plates = Array.prototype.slice.call(document.querySelectorAll('.plates > li'));
    var count = document.getElementById('count');
    var fold = function (s) { return s.toLowerCase().normalize('NFD').replace(/[\u0300-\u036f]/g, ''); };
    var words = plates.map(function (li) { return fold(li.getAttribute('data-words') || li.textContent); });
    find.closest('form').hidden = false;
    find.closest('form').addEventListener('submit', function (e) { e.preventDefault(); });
    find.addEventListener('input', function () {
      var asked = fold(find.value).split(/\s+/).filter(Boolean), shown = 0;
      plates.forEach(function (li, i) {
        var fits = asked.every(function (w) { return words[i].indexOf(w) >= 0; });
        li.hidden = !fits;
        if (fits) { shown++; }
      });
      count.textContent = asked.length ? (shown === 1 ? '1 plate' : shown + ' plates') : '';
    });
  }

  // Comparing: a slider over two pictures moves the edge between them.
  var compare = document.querySelector('.compare');
  if (compare) {
    var edge = compare.querySelector('input');
    var pictures = compare.querySelectorAll('img');
    var choices = document.querySelectorAll('.which select');
    var move = function () {
      compare.style.setProperty('--edge', edge.value + '%');
      edge.setAttribute('aria-valuetext', edge.value + ' percent of the left picture shown');
    };
    edge.addEventListener('input', move);
    choices.forEach(function (select, i) {
      select.addEventListener('change', function () {
        var o = select.options[select.selectedIndex];
        pictures[i].src = o.value;
        pictures[i].alt = o.getAttribute('data-alt');
      });
    });
    edge.hidden = false;
    move();
  }

  // Looking: a picture fills the window; wheel, keys and fingers enlarge it.
  var dialog = document.getElementById('look');
  if (!dialog || !dialog.showModal) { return; }
  var stage = dialog.querySelector('.stage'), img = stage.querySelector('img');
  var scale = 1, fit = 1, x = 0, y = 0, opener = null;
  function draw() { img.style.transform = 'translate(' + x + 'px,' + y + 'px) scale(' + scale + ')'; }
  function keepIn() {
    var w = img.naturalWidth * scale, h = img.naturalHeight * scale, W = stage.clientWidth, H = stage.clientHeight;
    x = w <= W ? (W - w) / 2 : Math.min(0, Math.max(W - w, x));
    y = h <= H ? (H - h) / 2 : Math.min(0, Math.max(H - h, y));
    draw();
  }
  function whole() {
    fit = Math.min(stage.clientWidth / img.naturalWidth, stage.clientHeight / img.naturalHeight) || 1;
    scale = fit; x = y = 0; keepIn();
  }
  function zoom(by, cx, cy) {
    var next = Math.min(Math.max(scale * by, fit), Math.max(4, fit * 4));
    x = cx - (cx - x) * next / scale; y = cy - (cy - y) * next / scale; scale = next; keepIn();
  }
  function middle(by) { zoom(by, stage.clientWidth / 2, stage.clientHeight / 2); }
  img.addEventListener('load', whole);
  window.addEventListener('resize', function () { if (dialog.open) { whole(); } });
  document.querySelectorAll('.open').forEach(function (b) {
    b.addEventListener('click', function () {
      opener = b;
      img.alt = b.querySelector('img').alt;
      dialog.querySelector('.bar p').textContent = img.alt;
      img.src = b.getAttribute('data-large');
      dialog.showModal();
      stage.focus();
      if (img.complete) { whole(); }
    });
  });
  dialog.addEventListener('close', function () { if (opener) { opener.focus(); } });
  dialog.querySelector('[data-do=larger]').addEventListener('click', function () { middle(1.5); });
  dialog.querySelector('[data-do=smaller]').addEventListener('click', function () { middle(1 / 1.5); });
  dialog.querySelector('[data-do=whole]').addEventListener('click', whole);
  dialog.querySelector('[data-do=close]').addEventListener('click', function () { dialog.close(); });
  stage.addEventListener('keydown', function (e) {
    var step = 60;
    switch (e.key) {
      case 'ArrowLeft': x += step; break;
      case 'ArrowRight': x -= step; break;
      case 'ArrowUp': y += step; break;
      case 'ArrowDown': y -= step; break;
      case '+': case '=': middle(1.25); e.preventDefault(); return;
      case '-': middle(1 / 1.25); e.preventDefault(); return;
      case '0': whole(); return;
      default: return;
    }
    e.preventDefault(); keepIn();
  });
  stage.addEventListener('wheel', function (e) {
    e.preventDefault();
    var r = stage.getBoundingClientRect();
    zoom(Math.exp(-e.deltaY / 400), e.clientX - r.left, e.clientY - r.top);
  }, { passive: false });
  var fingers = {};
  stage.addEventListener('pointerdown', function (e) { fingers[e.pointerId] = [e.clientX, e.clientY]; stage.setPointerCapture(e.pointerId); });
  stage.addEventListener('pointermove', function (e) {
    var was = fingers[e.pointerId];
    if (!was) { return; }
    var ids = Object.keys(fingers);
    if (ids.length === 2) {
      var other = fingers[ids[0] === String(e.pointerId) ? ids[1] : ids[0]], r = stage.getBoundingClientRect();
      var before = Math.hypot(was[0] - other[0], was[1] - other[1]), now = Math.hypot(e.clientX - other[0], e.clientY - other[1]);
      if (before > 0) { zoom(now / before, (e.clientX + other[0]) / 2 - r.left, (e.clientY + other[1]) / 2 - r.top); }
    } else { x += e.clientX - was[0]; y += e.clientY - was[1]; keepIn(); }
    fingers[e.pointerId] = [e.clientX, e.clientY];
  });
  ['pointerup', 'pointercancel'].forEach(function (k) { stage.addEventListener(k, function (e) { delete fingers[e.pointerId]; }); });
})();
