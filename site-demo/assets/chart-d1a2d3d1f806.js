"use strict";
(function(){
const modules=(globalThis.stepwardModules??={});
modules["parts/chart/svg.js"]=(function(){
const SPACE="http://www.w3.org/2000/svg";
function piece(tag,attributes={},...children){
const element=document.createElementNS(SPACE,tag);
for(const[name,value]of Object.entries(attributes)){
if(typeof value==="function")element.addEventListener(name,(value));
else element.setAttribute(name,String(value));
}
element.append(...children);
return(element);
}
const NODES=new WeakMap();
function nodesOf(svg){
const known=NODES.get(svg);
if(known)return known;
const groups=([...svg.querySelectorAll(":scope > .chart__node[data-step]")]);
const nodes=groups.map((group)=>{
const link=(group.querySelector("a"));
const words=link.getAttribute("aria-label")??"";
return{id:group.dataset.step??"",number:parseInt(words,10),words,group,link};
});
NODES.set(svg,nodes);
return nodes;
}
function edgesOf(svg){
return[...svg.querySelectorAll(":scope > .chart__edge")].map((edge)=>(edge));
}
return{piece,nodesOf,edgesOf};
})();
modules["parts/chart/find.js"]=(function(){
const{make}=modules["parts/follower/make.js"];
const{say:sayOf}=modules["parts/follower/words.js"];
const{nodesOf}=modules["parts/chart/svg.js"];
const say=(key,values={})=>sayOf(key,values,"flowchart");
function plain(text){
return text.normalize("NFKD").replace(/\p{M}/gu,"").toLowerCase();
}
function matches(text,question){
const words=plain(text).split(/[^\p{L}\p{N}]+/u);
const asked=plain(question).split(/[^\p{L}\p{N}]+/u).filter((word)=>word!=="");
return asked.length>0&&asked.every((word)=>words.some((one)=>one.startsWith(word)));
}
function finder(svg,tell){
let found=[];
let at=0;
const input=(make("input",{id:"chart--find",type:"search",autocomplete:"off"}));
const text=(node)=>`${node.words} ${[...node.group.querySelectorAll("[data-sign]")].map((sign)=>sign.getAttribute("aria-label")).join(" ")}`;
const mark=()=>{
for(const{group}of nodesOf(svg))group.classList.toggle("is-found",group===found[at]?.group);
if(input.value.trim()==="")tell("",null);
else if(found.length===0)tell(say("found-none"),null);
else tell(say("found",{place:at+1,count:found.length,n:found[at].number}),found[at].group);
};
const next=make("button",{type:"button",click:()=>{at=found.length===0?0:(at+1)%found.length;mark();}},say("find-next"));
input.addEventListener("input",()=>{
found=nodesOf(svg).filter((node)=>matches(text(node),input.value));
at=0;
mark();
});
const form=make("form",{class:"chart-tools__field"},make("label",{for:"chart--find"},say("find")),input,next);
form.addEventListener("submit",(event)=>{event.preventDefault();found[at]?.link.focus({preventScroll:true});});
return form;
}
return{matches,finder};
})();
modules["parts/chart/stretch.js"]=(function(){
function cutFor(box,all){
let y=box.bottom;
for(let again=true;again;){
const over=all.filter((one)=>one.top<y&&one.bottom>y);
again=over.length>0;
y=Math.max(y,...over.map((one)=>one.bottom));
}
return{x:box.right,y};
}
function pulled(cuts){
const room=(along,by)=>{
const most=new Map();
for(const cut of cuts)most.set(cut[along],Math.max(most.get(cut[along])??0,cut[by]));
return[...most];
};
const[across,down]=[room("x","width"),room("y","height")];
const moved=(list,value)=>list.reduce((sum,[at,by])=>(value>at?sum+by:sum),value);
return({x,y})=>({x:moved(across,x),y:moved(down,y)});
}
function cornersOf(path){
const corners=[];
for(const[,letter,numbers]of path.matchAll(/([MLQ])([^MLQ]*)/g)){
const[x,y]=numbers.trim().split(/[ ,]+/).map(Number);
if(letter==="L")corners.push({x,y,soft:true});
else corners.push({x,y,soft:false});
}
return corners.filter((corner,place)=>!corner.soft||place===corners.length-1).map(({x,y})=>({x,y}));
}
const CORNER=6;
function pathOf(points){
const length=(a,b)=>Math.abs(a.x-b.x)+Math.abs(a.y-b.y);
const towards=(from,to,by)=>`${from.x+by*Math.sign(to.x-from.x)} ${from.y+by*Math.sign(to.y-from.y)}`;
return points.map((point,place)=>{
const[before,next]=[points[place-1],points[place+1]];
if(!before)return`M${point.x} ${point.y}`;
if(!next)return`L${point.x} ${point.y}`;
const radius=Math.min(CORNER,Math.floor(length(before,point)/2),Math.floor(length(point,next)/2));
return`L${towards(point,before,radius)}Q${point.x} ${point.y} ${towards(point,next,radius)}`;
}).join("");
}
return{cutFor,pulled,cornersOf,pathOf};
})();
modules["parts/chart/fold.js"]=(function(){
const{make}=modules["parts/follower/make.js"];
const{say:sayOf}=modules["parts/follower/words.js"];
const{cornersOf,cutFor,pathOf,pulled}=modules["parts/chart/stretch.js"];
const{edgesOf,nodesOf,piece}=modules["parts/chart/svg.js"];
const say=(key,values={})=>sayOf(key,values,"flowchart");
const GAP=24;
const HEAD=28;
const loading=new Map();
function fetched(procedure,address){
const known=loading.get(procedure);
if(known)return known;
const coming=new Promise((done,failed)=>{
const took=(event)=>{
const{detail}=(event);
if(detail.procedure!==procedure)return;
document.removeEventListener("stepward:drawing",took);
done(detail);
};
document.addEventListener("stepward:drawing",took);
document.head.append(make("script",{src:`${document.body.dataset.root??""}${address}`,error:()=>{loading.delete(procedure);failed(new Error(`${address} is not there`));}}));
});
loading.set(procedure,coming);
return coming;
}
function nameOf(node){
return node.words.replace(/^\d+\. [^:]*: /,"");
}
class Folds{
constructor(svg,view,drawings,tell){
this.svg=svg;
this.view=view;
this.drawings=drawings;
this.tell=tell;
this.open=new Map();
this.plain=null;
for(const node of nodesOf(svg))if(drawings[node.group.dataset.callee??""])this.button(node);
}
button(node){
const shape=(node.group.querySelector(".chart__shape"));
const{x,y,width,height}=shape.getBBox();
const toggle=()=>this.toggle(node);
const press=(event)=>{
if(event.key!=="Enter"&&event.key!==" ")return;
event.preventDefault();
toggle();
};
const[left,top]=[x+width-30,y+height-12];
const name=nameOf(node);
const sign=piece("path",{class:"chart__fold-sign",d:`M${left+6} ${top+12}h12M${left+12} ${top+6}v12`});
node.group.append(piece("g",{class:"chart__fold",role:"button",tabindex:0,"aria-expanded":"false","aria-label":say("open",{name}),click:toggle,keydown:press},piece("rect",{x:left,y:top,width:24,height:24}),sign));
}
async toggle(node){
const callee=node.group.dataset.callee??"";
const name=nameOf(node);
const opens=!this.open.has(node.id);
try{
if(opens){
const{svg,title}=await fetched(callee,this.drawings[callee]);
this.open.set(node.id,{inner:innerOf(svg),title});
}else this.open.delete(node.id);
}catch{
this.tell(say("not-opened",{name}),null);
return;
}
const button=node.group.querySelector(".chart__fold");
button?.setAttribute("aria-expanded",String(opens));
button?.setAttribute("aria-label",say(opens?"shut":"open",{name}));
button?.querySelector("path")?.classList.toggle("is-open",opens);
this.lay();
this.tell(opens?say("opened",{name}):"",node.group);
}
measured(){
const nodes=([...this.svg.querySelectorAll(":scope > .chart__node")]).map((group)=>{
const box=group.getBBox();
const shape=(group.querySelector(".chart__shape")).getBBox();
return{group,id:group.dataset.step,box:{left:box.x,top:box.y,right:box.x+box.width,bottom:box.y+box.height},axis:shape.x+shape.width/2,middle:shape.y+shape.height/2,edge:shape.x+shape.width};
});
const of=(id)=>nodes.find((node)=>node.id===id);
const edges=edgesOf(this.svg).map((edge)=>({
ends:[of(edge.dataset.from),of(edge.dataset.to)],
lines:[...edge.querySelectorAll("path")].map((path)=>({path,corners:cornersOf(path.getAttribute("d")??"")})),
others:([...edge.querySelectorAll("polygon, rect, text")]).map((element)=>{
const box=element.getBBox();
return{element,at:{x:box.x+box.width/2,y:box.y+box.height/2}};
}),
}));
const{width,height}=this.svg.viewBox.baseVal;
return{nodes,edges,width,height};
}
lay(){
this.plain??=this.measured();
const{nodes,edges,width,height}=this.plain;
const boxes=nodes.map((node)=>node.box);
const opened=nodes.filter((node)=>this.open.has(node.id)).map((node)=>{
const{inner,title}=(this.open.get(node.id));
const size=inner.viewBox.baseVal;
return{node,inner,title,size,cut:{...cutFor(node.box,boxes),width:size.width+3*GAP,height:size.height+HEAD+3*GAP}};
});
const move=pulled(opened.map((one)=>one.cut));
const by=(element,from,to=move(from))=>{
if(to.x===from.x&&to.y===from.y)element.removeAttribute("transform");
else element.setAttribute("transform",`translate(${to.x-from.x} ${to.y-from.y})`);
};
for(const{group,box,axis}of nodes)by(group,{x:axis,y:box.top});
for(const{ends,lines,others}of edges){
const beside=(point,node)=>(node&&(point.x<=node.box.left||point.x>=node.edge)?move({x:node.axis,y:node.box.top}).x-node.axis:null);
const tip=lines[0]?.corners.at(-1);
const along=tip?beside(tip,ends[1]):null;
for(const{path,corners}of lines){
const moved=corners.map(move);
for(const[place,node]of[[0,ends[0]],[corners.length-1,ends[1]]]){
const shift=beside(corners[place],node);
if(shift!==null)moved[place].x=corners[place].x+shift;
}
path.setAttribute("d",pathOf(moved));
}
for(const{element,at}of others){
if(along!==null&&Math.abs(at.x-tip.x)+Math.abs(at.y-tip.y)<HEAD/2)by(element,at,{x:at.x+along,y:move(at).y});
else by(element,at);
}
}
this.svg.querySelectorAll(":scope > .chart__inset, :scope > .chart__here").forEach((old)=>old.remove());
for(const one of opened)this.svg.append(inset(one,move));
const end=move({x:width,y:height});
this.svg.setAttribute("viewBox",`0 0 ${end.x} ${end.y}`);
this.view.measure();
document.dispatchEvent(new Event("stepward:run"));
}
}
function innerOf(text){
const read=new DOMParser().parseFromString(text,"image/svg+xml").documentElement;
const svg=(document.importNode(read,true));
for(const element of[svg,...svg.querySelectorAll("[id]")])element.removeAttribute("id");
for(const name of["aria-labelledby","aria-describedby"])svg.removeAttribute(name);
return(svg);
}
function inset({node,inner,title,size,cut},move){
const at=move({x:cut.x,y:cut.y});
const[left,top]=[at.x+GAP,at.y+GAP];
for(const[name,value]of Object.entries({x:left+GAP/2,y:top+HEAD,width:size.width,height:size.height,"aria-label":title}))inner.setAttribute(name,String(value));
const from=move({x:node.axis,y:node.box.top});
const[edge,middle]=[node.edge+from.x-node.axis,node.middle+from.y-node.box.top];
return piece("g",{class:"chart__inset"},
piece("path",{class:"chart__tie",d:`M${edge} ${middle}H${left+GAP/2}V${top}`}),
piece("rect",{class:"chart__inset-frame",x:left,y:top,width:size.width+GAP,height:size.height+HEAD+GAP/2}),
piece("text",{class:"chart__title",x:left+GAP/2,y:top+19,"font-size":14},title),inner);
}
return{Folds};
})();
modules["parts/chart/lens.js"]=(function(){
const{make}=modules["parts/follower/make.js"];
const{say:sayOf}=modules["parts/follower/words.js"];
const{edgesOf,nodesOf}=modules["parts/chart/svg.js"];
const say=(key,values={})=>sayOf(key,values,"flowchart");
function look(svg,lens){
const numbers=new Map(nodesOf(svg).map((node)=>[node.id,node.number]));
svg.classList.toggle("chart--lens",lens!==null);
const on=new Set(lens?.steps);
for(const{number,group}of nodesOf(svg)){
group.classList.toggle("is-off",lens!==null&&!on.has(number));
for(const sign of group.querySelectorAll("[data-sign]"))sign.classList.toggle("is-match",lens?.kind==="hazard"&&((sign).dataset.sign??"").split(" ").includes(lens.id));
}
const ways=new Set(lens?.ways);
for(const edge of edgesOf(svg)){
const{from="",to="",way}=edge.dataset;
const inside=from===""?on.has(numbers.get(to)??0):ways.has(`${numbers.get(from)}.${way}`);
edge.classList.toggle("is-off",lens!==null&&!inside);
}
}
function lensChoice(svg,lenses,tell){
if(lenses.length===0)return null;
const choice=(make("select",{id:"chart--lens"},make("option",{value:""},say("show-all"))));
for(const kind of new Set(lenses.map((lens)=>lens.kind))){
const group=make("optgroup",{label:say(`show-${kind}`)});
lenses.forEach((lens,place)=>lens.kind===kind&&group.append(make("option",{value:place},lens.name)));
choice.append(group);
}
choice.addEventListener("change",()=>{
const lens=choice.value===""?null:lenses[Number(choice.value)];
look(svg,lens);
const nodes=nodesOf(svg);
const first=lens&&nodes.find((node)=>node.number===Math.min(...lens.steps));
tell(lens?say("shown",{count:lens.steps.length,all:nodes.length,name:lens.name}):"",first?.group??null);
});
return make("p",{class:"chart-tools__field"},make("label",{for:"chart--lens"},say("show")),choice);
}
return{look,lensChoice};
})();
modules["parts/chart/run.js"]=(function(){
const{edgesOf,nodesOf,piece}=modules["parts/chart/svg.js"];
const{say}=modules["parts/follower/words.js"];
function hereOf(flow,state){
if(state.frames.length===0)return null;
const id=state.frames.length===1?state.step:state.frames[1].caller;
return flow.procedures[flow.procedure].steps[id]?id:null;
}
function takenWays(flow,state){
const own=state.path.filter((entry)=>entry.what==="way"&&entry.depth===0&&entry.procedure===flow.procedure);
return new Set(own.map((entry)=>`${entry.step}.${entry.way}`));
}
function waysOn(state,step){
const named=step.ways.some((way)=>way.kind==="model"&&way.text===state.model);
const done=state.counts[`${state.frames[0].id}/${step.id}`]??0;
const worn=step.atMost!==null&&done>=step.atMost&&step.id!==state.step;
const open=(way)=>{
if(worn)return way.kind==="otherwise";
return way.kind!=="model"||state.model===null||way.text===state.model||(way.text==="others"&&!named);
};
return step.ways.flatMap((way,index)=>(open(way)?[index]:[]));
}
function possible(flow,state){
const{steps}=flow.procedures[flow.procedure];
const here=hereOf(flow,state);
const seen=new Set(here===null?[]:[here]);
const ways=new Set();
for(const id of seen){
for(const index of waysOn(state,steps[id])){
const{then}=steps[id].ways[index];
if(!steps[then])continue;
ways.add(`${id}.${index}`);
seen.add(then);
}
}
return{steps:seen,ways};
}
function markRun(svg,flow,state){
const here=hereOf(flow,state);
const taken=takenWays(flow,state);
const{steps,ways}=possible(flow,state);
svg.classList.toggle("chart--run",here!==null);
svg.querySelector(":scope > .chart__here")?.remove();
for(const edge of edgesOf(svg)){
const{from,way}=edge.dataset;
const name=`${from}.${way}`;
edge.classList.toggle("is-taken",from===undefined?here!==null:taken.has(name));
edge.classList.toggle("is-open",ways.has(name));
}
const passed=new Set([...taken].map((name)=>name.slice(0,name.lastIndexOf("."))));
let found=null;
for(const{id,group,link}of nodesOf(svg)){
const is=here===id;
group.classList.toggle("is-here",is);
group.classList.toggle("is-open",here!==null&&steps.has(id));
group.classList.toggle("is-passed",passed.has(id));
if(is)link.setAttribute("aria-current","step");
else link.removeAttribute("aria-current");
if(is)found=group;
}
if(found)svg.append(flag(found));
return found;
}
function flag(group){
const shape=(group.querySelector(".chart__shape"));
const{x,y,height}=shape.getBBox();
const move=group.getAttribute("transform");
const mark=piece("g",{class:"chart__here","aria-hidden":"true",...(move?{transform:move}:{})});
const[left,top]=[x-34,y+height/2-10];
mark.append(piece("path",{d:`M${left} ${top}h32l8 10-8 10h-32z`}),piece("text",{x:left+17,y:top+14,"font-size":12,"text-anchor":"middle"},say("here",{},"flowchart")));
return mark;
}
return{hereOf,takenWays,possible,markRun};
})();
modules["parts/chart/step-sheet.js"]=(function(){
const{make}=modules["parts/follower/make.js"];
const{say:sayOf}=modules["parts/follower/words.js"];
const{edgesOf,nodesOf}=modules["parts/chart/svg.js"];
const say=(key,values={})=>sayOf(key,values,"flowchart");
class StepSheet{
constructor(svg,view,running){
this.svg=svg;
this.view=view;
this.running=running;
this.sheet=make("div",{class:"chart-step",role:"region",hidden:true});
this.sheet.addEventListener("click",(event)=>this.followed(event));
this.sheet.addEventListener("keydown",(event)=>event.key==="Escape"&&this.back());
svg.addEventListener("click",(event)=>this.clicked(event));
this.node=null;
}
asked(event){
const click=(event);
const link=event.target instanceof Element?event.target.closest("a"):null;
const step=/^#step-(.+)$/.exec(link?.getAttribute("href")??"");
return step===null||click.ctrlKey||click.metaKey||click.shiftKey?null:step[1];
}
clicked(event){
const step=this.asked(event);
if(step!==null&&this.show(step))event.preventDefault();
}
followed(event){
const step=this.asked(event);
if(step===null||!this.show(step))return;
event.preventDefault();
}
show(id){
const node=nodesOf(this.svg).find((one)=>one.id===id);
const section=document.getElementById(`step-${id}`);
if(!node||!section)return false;
this.node=node;
for(const one of nodesOf(this.svg))one.group.classList.toggle("is-shown",one===node);
const brief=this.running();
const copy=copyOf(section,brief);
const title=copy.querySelector("h3");
title?.setAttribute("tabindex","-1");
this.sheet.setAttribute("aria-label",node.words);
this.sheet.replaceChildren(
make("p",{class:"chart-step__head"},make("button",{type:"button",click:()=>this.back()},say("back")),make("span",{class:"aside"},say(brief?"step-brief":"step-to-read"))),
copy,this.sources(id),
);
this.sheet.hidden=false;
this.view.show(node.group);
(title??this.sheet).focus({preventScroll:true});
this.sheet.scrollIntoView({block:"nearest"});
return true;
}
sources(id){
const nodes=nodesOf(this.svg);
const from=new Set(edgesOf(this.svg).filter((edge)=>edge.dataset.to===id).map((edge)=>edge.dataset.from));
const links=nodes.filter((node)=>from.has(node.id)).map((node)=>make("li",{},make("a",{href:`#step-${node.id}`},node.words)));
return make("div",{class:"chart-step__from"},make("p",{},say("comes-from")),links.length>0?make("ul",{},...links):make("p",{},say("nowhere")));
}
back(){
this.sheet.hidden=true;
this.node?.group.classList.remove("is-shown");
this.view.region.scrollIntoView({block:"nearest"});
this.view.show(this.node?.group??null);
this.node?.link.focus({preventScroll:true});
}
}
function copyOf(section,brief){
const copy=make("div",{class:"step"},...[...section.childNodes].map((child)=>child.cloneNode(true)));
for(const element of copy.querySelectorAll("[id], [aria-labelledby]")){
element.removeAttribute("id");
element.removeAttribute("aria-labelledby");
}
if(brief)copy.querySelectorAll(".step__work").forEach((work)=>work.remove());
return copy;
}
return{StepSheet};
})();
modules["parts/chart/view.js"]=(function(){
const LEAST=0.05;
const MOST=3;
const STEP=1.25;
const ROOM=26;
const READABLE=0.5;
const CLICK=4;
const SETTLE_MS=160;
class View{
constructor(region,svg){
this.region=region;
this.svg=svg;
this.scale=1;
this.glide=null;
this.measure();
region.style.setProperty("--window",`${Math.min(this.height+32,Math.round(innerHeight*0.8))}px`);
region.classList.add("chart-scroll--alive");
region.addEventListener("wheel",(event)=>this.wheeled(event),{passive:false});
region.addEventListener("keydown",(event)=>this.keyed(event));
region.addEventListener("pointerdown",(event)=>this.grabbed(event));
region.addEventListener("dragstart",(event)=>event.preventDefault());
region.addEventListener("touchstart",(event)=>this.pinched(event),{passive:true});
addEventListener("beforeprint",()=>this.sized(1));
addEventListener("afterprint",()=>this.sized(this.scale));
}
measure(){
const{width,height}=this.svg.viewBox.baseVal;
Object.assign(this,{width,height});
this.sized(this.scale);
}
sized(scale){
this.svg.setAttribute("width",String(this.width*scale));
this.svg.setAttribute("height",String(this.height*scale));
}
middle(){
const box=this.region.getBoundingClientRect();
return{x:box.left+box.width/2,y:box.top+box.height/2};
}
zoomTo(scale,at=this.middle()){
this.settle();
const next=Math.min(MOST,Math.max(LEAST,scale));
const before=this.svg.getBoundingClientRect();
const[x,y]=[(at.x-before.left)/this.scale,(at.y-before.top)/this.scale];
this.scale=next;
this.sized(next);
const after=this.svg.getBoundingClientRect();
this.region.scrollBy(after.left+x*next-at.x,after.top+y*next-at.y);
}
zoomOn(scale,at,from){
const glide=(this.glide??={box:this.svg.getBoundingClientRect(),x:0,y:0,scale:this.scale,timer:0});
const{box}=glide;
const[x,y]=[(from.x-box.left-glide.x)/glide.scale,(from.y-box.top-glide.y)/glide.scale];
glide.scale=Math.min(MOST,Math.max(LEAST,scale));
Object.assign(glide,{x:at.x-box.left-x*glide.scale,y:at.y-box.top-y*glide.scale});
clearTimeout(glide.timer);
const stretched=glide.scale/this.scale;
glide.timer=window.setTimeout(()=>this.settle(),SETTLE_MS);
this.svg.style.transform=`translate(${glide.x}px, ${glide.y}px) scale(${stretched})`;
if(stretched<0.5||stretched>2)this.settle();
}
settle(){
if(this.glide===null)return;
const{box,x,y,scale,timer}=this.glide;
clearTimeout(timer);
this.glide=null;
this.scale=scale;
this.svg.style.transform="";
this.sized(scale);
const after=this.svg.getBoundingClientRect();
this.region.scrollBy(after.left-box.left-x,after.top-box.top-y);
}
zoomBy(steps){
this.zoomTo(this.scale*STEP**steps);
}
whole(){
this.zoomTo(Math.min(1,(this.region.clientWidth-ROOM)/this.width,(this.region.clientHeight-ROOM)/this.height));
}
wide(){
const scale=Math.min(1,Math.max(READABLE,(this.region.clientWidth-ROOM)/this.width));
const box=this.region.getBoundingClientRect();
this.zoomTo(scale,{x:box.left+box.width/2,y:box.top});
}
move(right,down){
this.region.scrollBy(right*this.region.clientWidth*0.6,down*this.region.clientHeight*0.6);
}
show(node){
if(!node)return;
const box=node.getBoundingClientRect();
const view=this.region.getBoundingClientRect();
this.region.scrollBy(box.left+box.width/2-view.left-view.width/2,box.top+box.height/2-view.top-Math.min(view.height/2,160));
}
wheeled(event){
if(!event.ctrlKey)return;
event.preventDefault();
const at={x:event.clientX,y:event.clientY};
this.zoomOn((this.glide?.scale??this.scale)*Math.exp(-Math.max(-80,Math.min(80,event.deltaY))/200),at,at);
}
keyed(event){
if(event.ctrlKey||event.metaKey||event.altKey)return;
const act={"+":()=>this.zoomBy(1),"=":()=>this.zoomBy(1),"-":()=>this.zoomBy(-1),0:()=>this.zoomTo(1)}[event.key];
if(!act)return;
event.preventDefault();
act();
}
grabbed(event){
if(event.pointerType!=="mouse"||event.button!==0)return;
const from={x:event.clientX,y:event.clientY,left:this.region.scrollLeft,top:this.region.scrollTop};
let dragged=false;
const moved=(now)=>{
const[x,y]=[now.clientX-from.x,now.clientY-from.y];
dragged||=Math.hypot(x,y)>CLICK;
if(!dragged)return;
this.region.classList.add("is-dragged");
this.region.scrollTo(from.left-x,from.top-y);
};
const done=()=>{
removeEventListener("pointermove",moved);
this.region.classList.remove("is-dragged");
const stop=(click)=>{click.preventDefault();click.stopPropagation();};
if(!dragged)return;
addEventListener("click",stop,{capture:true,once:true});
setTimeout(()=>removeEventListener("click",stop,{capture:true}));
};
addEventListener("pointermove",moved);
for(const end of["pointerup","pointercancel"])addEventListener(end,done,{once:true});
}
pinched(event){
if(event.touches.length!==2)return;
const middle=([a,b])=>({x:(a.clientX+b.clientX)/2,y:(a.clientY+b.clientY)/2,apart:Math.hypot(a.clientX-b.clientX,a.clientY-b.clientY)});
this.settle();
const start={...middle(event.touches),scale:this.scale};
let last=start;
const moved=(now)=>{
if(now.touches.length!==2)return;
now.preventDefault();
const next=middle(now.touches);
this.zoomOn(start.scale*next.apart/start.apart,next,last);
last={...last,...next};
};
this.region.addEventListener("touchmove",moved,{passive:false});
for(const end of["touchend","touchcancel"])this.region.addEventListener(end,()=>this.region.removeEventListener("touchmove",moved),{once:true});
}
}
return{View};
})();
modules["parts/chart/chart.js"]=(function(){
const{make}=modules["parts/follower/make.js"];
const{say:sayOf}=modules["parts/follower/words.js"];
const{finder}=modules["parts/chart/find.js"];
const{Folds}=modules["parts/chart/fold.js"];
const{lensChoice}=modules["parts/chart/lens.js"];
const{hereOf,markRun}=modules["parts/chart/run.js"];
const{StepSheet}=modules["parts/chart/step-sheet.js"];
const{View}=modules["parts/chart/view.js"];
const say=(key,values={})=>sayOf(key,values,"flowchart");
function startChart(section){
const region=section.querySelector(".chart-scroll");
const svg=region?.querySelector("svg");
if(!(region instanceof HTMLElement)||!(svg instanceof SVGSVGElement))return;
const data=JSON.parse(document.getElementById("chart--data")?.textContent??"{}");
const status=make("p",{class:"chart-tools__status",role:"status"});
const view=new View(region,svg);
const tell=(words,node)=>{
status.textContent=words;
view.show(node);
};
const sheet=new StepSheet(svg,view,()=>running()!==null);
new Folds(svg,view,data.drawings??{},tell);
const tools=make("div",{class:"chart-tools",role:"group","aria-label":say("tools")},
make("div",{class:"chart-tools__fields"},finder(svg,tell),lensChoice(svg,data.lenses??[],tell)),
buttons(view),status);
region.before(tools);
region.after(sheet.sheet,make("p",{class:"aside chart-tools__help"},say("help")));
section.classList.add("is-alive");
view.show(svg.querySelector("[id$='chart--start']"));
followRun(svg,view);
}
function running(){
const run=(document).stepwardRun;
return run&&hereOf(run.flow,run.state)!==null?run:null;
}
function followRun(svg,view){
let last=null;
const mark=()=>{
const run=(document).stepwardRun;
if(!run)return;
const here=markRun(svg,run.flow,run.state);
const step=here?.dataset.step??null;
if(step!==last)view.show(here);
last=step;
};
document.addEventListener("stepward:run",mark);
mark();
}
function buttons(view){
const all=[
["left","\u2190",()=>view.move(-1,0)],["up","\u2191",()=>view.move(0,-1)],["down","\u2193",()=>view.move(0,1)],["right","\u2192",()=>view.move(1,0)],
["zoom-out","\u2212",()=>view.zoomBy(-1)],["zoom-in","+",()=>view.zoomBy(1)],
];
const drawn=all.map(([key,sign,act])=>make("button",{type:"button","aria-label":say(key),title:say(key),click:act},sign));
const named=[["zoom-whole",()=>view.whole()],["zoom-width",()=>view.wide()],["zoom-full",()=>view.zoomTo(1)]].map(([key,act])=>make("button",{type:"button",click:act},say(String(key))));
return make("div",{class:"chart-tools__buttons"},...drawn,...named);
}
return{startChart};
})();
modules["script/chart.js"]=(function(){
const{startChart}=modules["parts/chart/chart.js"];
for(const section of typeof document==="undefined"?[]:document.querySelectorAll("[data-part=chart]")){
try{
startChart((section));
}catch(problem){
console.error(problem);
}
}
return{};
})();
})();
