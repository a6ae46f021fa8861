// Takes out of the WebAssembly that Go links what runs in no browser: functions of
// Go's runtime and library that are only called when somebody asks for an execution
// trace, a profile, runtime metrics or a debugging aid (all asked for by an import
// or a variable of the environment, of which the page has neither), opens a file, or
// takes a power modulo a number. The linker cannot know. Each is 3 bytes afterwards
// and stops the program, as a crash does, should it ever be called.
//
// What the runtime tries at every start, whether its own tables and the processor's
// arithmetic are in order, is tried when the program is tested, and what it notes of
// every so many bytes given out is for a profile: there it returns at once, as it does
// where types of several modules are told apart and where GODEBUG names what a processor can.

const STOP = Buffer.from([0, 0x00, 0x0b]); // no locals; unreachable; end
// No locals; the stack pointer, global 0, past the return address; 0, which is that it has returned; end.
const RETURN = Buffer.from([0, 0x23, 0, 0x41, 8, 0x6a, 0x24, 0, 0x41, 0, 0x0b]);

const RETURNING = [/^runtime\.(moduledataverify1|check|mProf_Malloc|typelinksinit)$/, /^internal_cpu\.processOptions$/];

const UNUSED = [
  // runtime/metrics.
  /^runtime\.(init|read)Metrics/,
  // runtime/trace: a locker that is not ok, as none is here, is asked for nothing else.
  /^runtime\.trace(Advance|Stack|ReadCPU|CPUSample|SnapshotMemory|ExpWriter|RegisterLabelsAndReasons|StartReadCPU|StopReadCPU|CPUFlush|Frequency|Reader)/,
  /^runtime\.traceLocker\.(?!ok$)/,
  /^runtime\._*trace(StackTable|TypeTable|StringTable|Map|Writer|RegionAlloc|Buf|Schedule)_*\./,
  // runtime/pprof.
  /^runtime\.__profBuf_\./,
  /^runtime\.saveblockevent$/,
  // GODEBUG: schedtrace, checkfinalizers, gccheckmark, scavtrace, tracebackancestors, and what bisects changes.
  /^runtime\.schedtrace/,
  /^runtime\.checkFinalizersAndCleanups/,
  /^runtime\.(setCheckmark|startCheckmarks|endCheckmarks|printScavTrace|dumpScanStats|printAncestorTraceback(FuncInfo)?)(\.|$)/,
  /^internal_bisect\./,
  // A runtime that has found its own memory corrupt says so; a dump of it follows.
  /^runtime\.(gcDumpObject|dumpStacksRec|dumpTypesRec|__mspan_\.reportZombies)(\.|$)/,
  /^runtime\.__hexdumper_\./,
  // C in the stack.
  /^runtime\.print(One)?CgoTraceback/,
  // Types of modules that are loaded later.
  /^runtime\.typesEqual$/,
  // Files.
  /^internal_poll\.__FD_\.(Write|Read|Fstat|Seek|Pread|Pwrite|ReadDirent|WriteTo|ReadFrom|Fchmod|Fchown|Ftruncate|Fsync|Fchdir|Raw)/,
  /^syscall\.(Open|Read|Write|fsCall|Stat|Fstat|Lstat|Seek|ReadDirent|Pread|Pwrite)(\.|$)/,
  // How a crash tells of its goroutines, by names and lines that are not there; what it says of itself comes before.
  /^runtime\.(goroutineheader|traceback[12]|traceback[12]\.func\d|tracebacksomeothers|tracebacksomeothers\.func1|printArgs|printArgs\.func\d|printcreatedby1?|printanycustomtype|__Frames_\.Next|expandCgoFrames|tracebackHexdump(\.func1)?)$/,
  // Profiles of goroutines and of memory, stacks for them, and goroutines in a test's own time.
  /^runtime\.(doRecordGoroutineProfile|tryRecordGoroutineProfile)$/,
  /^runtime\.(stkbucket|fpunwindExpand|fpTracebackPartialExpand|findGoroutineLeaks|findMaybeRunnableGoroutines)$/,
  /^runtime\.__synctestBubble_\./,
  // Whether two of the runtime's own things are equal.
  /^type_\.eq\.(_\d+_)?(runtime|internal_godebugs|internal_sync|os|io_fs)\./,
  // Methods taken by reflection as functions.
  /^reflect\.(callMethod|callReflect|funcLayout|methodReceiver|newAbiDesc|makeMethodValue|storeRcvr|__abiSeq_\.\w+)$/,
  // Maps in %v, numbers of 32 bits, in hexadecimal, and complex ones.
  /^internal_fmtsort\./,
  /^slices\.\w+CmpFunc_go\.shape\.struct___Key_reflect\.Value/,
  /^internal_strconv\.(fmtX|fmtB|atof32|atof32exact|eiselLemire32|dboxFtoa32|AppendComplex)$/,
  /^fmt\.__pp_\.fmtComplex$/,
  // Powers modulo a number; those of ten that decimals take are not. Common divisors, and %v of a whole number of any size.
  /^math_big\.nat\.(expNNMontgomery|expNNMontgomeryEven|expNNWindowed|montgomery|subMod2N)$/,
  /^math_big\.__Int_\.(ModInverse|GCD|lehmerGCD|Format)$/,
  /^math_big\.(lehmerSimulate|lehmerUpdate|lehmerCosequences)$/,
];

/**
 * A function's body by its name: what nothing calls stops or returns, the others are as they were.
 * @param {(what: string) => void} say told, by the function returned second, which of them the program has none of
 * @returns {[(body: Buffer, name: string) => Buffer, () => void]}
 */
export function unused(say = () => {}) {
  const found = new Set();
  const is = (name, patterns) => patterns.some((pattern) => pattern.test(name) && found.add(pattern));
  const change = (body, name) => (is(name, UNUSED) ? STOP : is(name, RETURNING) ? RETURN : body);
  const missing = () => {
    for (const pattern of [...UNUSED, ...RETURNING]) {
      if (!found.has(pattern)) say(`unused: nothing is called ${pattern}; does this version of Go call it otherwise?`);
    }
  };
  return [change, missing];
}
